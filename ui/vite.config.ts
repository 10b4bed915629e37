import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

/** Where the hub listens while one works on the screens (`swarfbook serve`). */
const hub = process.env.SWARFBOOK_HUB ?? 'http://127.0.0.1:8350';

export default defineConfig({
  plugins: [svelte()],
  base: './',
  server: {
    port: 5173,
    strictPort: true,
    // The messages lie beside the screens, in core/words.
    fs: { allow: ['.', '../core/words'] },
    proxy: { '/call': hub, '/photo': hub },
  },
  build: {
    target: 'es2022',
    modulePreload: { polyfill: false },
    // No data: URLs, so that a strict content policy can name 'self' alone.
    assetsInlineLimit: 0,
  },
  resolve: process.env.VITEST ? { conditions: ['browser'] } : {},
  test: {
    environment: 'happy-dom',
    // Looking up roles in a large page is slow on a busy machine.
    testTimeout: 30_000,
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/support/setup.ts'],
  },
});
