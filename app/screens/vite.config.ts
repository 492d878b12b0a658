import { defineConfig } from 'vite'

/** Builds the screens: one page, one script, fonts and styles beside it; nothing is fetched from anywhere else. */
export default defineConfig({
  root: import.meta.dirname,
  base: './',
  build: {
    target: 'chrome110',
    outDir: '../../dist/screens',
    emptyOutDir: true,
    // Nothing inline: the page's content policy lets only files of its own in.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    // All of it in one script, which is had from the same machine; kB.
    chunkSizeWarningLimit: 1_000,
  },
})
