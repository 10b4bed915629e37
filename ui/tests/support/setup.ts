import { cleanup } from '@testing-library/svelte';
import { afterEach } from 'vitest';
import { speak } from '../../src/words';
import { LANGUAGES } from '../../src/words/language.svelte';

// Each is there, so that a test changes the language at once.
for (const { id } of LANGUAGES) await speak(id);
await speak('en');

afterEach(cleanup);
