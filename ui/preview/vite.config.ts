import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';

// The preview is no part of the product's build: it may read the demo site beside this folder.
export default defineConfig({
  plugins: [svelte()],
  server: { port: 1430, strictPort: true, fs: { allow: ['..'] } },
});
