import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defineConfig } from 'vite'

export default defineConfig({
  plugins: [svelte()],
  build: {
    outDir: '../src/leadsman/web/static',
    emptyOutDir: true,
    cssCodeSplit: false, // one style sheet for all views is a third smaller than one for each
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0, // the content security policy knows no inlined fonts
  },
  server: { proxy: { '/api': 'http://127.0.0.1:8123' } },
})
