import { defineConfig } from 'vitest/config';
import { svelte } from '@sveltejs/vite-plugin-svelte';

// WebKitGTK 2.4x on Debian 12 is close to Safari 16; nothing newer is assumed.
export default defineConfig({
  plugins: [svelte()],
  build: { target: 'safari16', outDir: 'dist', emptyOutDir: true, assetsInlineLimit: 0 },
  server: { port: 1420, strictPort: true },
  resolve: process.env.VITEST ? { conditions: ['browser'] } : undefined,
  test: { environment: 'happy-dom', include: ['src/**/*.test.ts'] },
});
