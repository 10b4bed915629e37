import { expect, test } from 'vitest';
import type { WantView } from '../src/door/types/WantView';
import { wantKey } from '../src/screens/job/find';

test('readings of several quantities at one step are told apart', () => {
  const quantities = ['resistance', 'insulation', 'voltage', 'frequency'];
  const wants = quantities.map((quantity) => ({ kind: 'readings', quantity }) as WantView);
  expect(new Set(wants.map(wantKey)).size).toBe(quantities.length);
});
