import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';

export default ts.config(
  { ignores: ['dist', 'src/door/types', 'tools/known-bad'] },
  js.configs.recommended,
  ...ts.configs.recommended,
  ...svelte.configs.recommended,
  { languageOptions: { globals: globals.browser } },
  {
    files: ['tools/**', '*.config.*'],
    languageOptions: { globals: globals.node },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser } },
  },
  {
    rules: {
      // TypeScript knows the names.
      'no-undef': 'off',
      // Screens reach the store through the door alone.
      'no-restricted-globals': ['error', 'fetch', 'XMLHttpRequest', 'localStorage'],
    },
  },
  {
    files: ['src/door/**', 'tests/**'],
    rules: { 'no-restricted-globals': 'off' },
  },
  {
    files: ['src/**/*.svelte', 'src/**/*.ts'],
    rules: { 'max-lines': ['error', { max: 250 }] },
  },
  {
    // Plain maps and sets here are memory that no screen is drawn from, or are replaced whole.
    files: ['src/state/**'],
    rules: { 'svelte/prefer-svelte-reactivity': 'off' },
  },
  {
    files: ['src/words/**'],
    rules: { 'max-lines': 'off' },
  },
);
