import { defineConfig } from 'vite'

/** Builds what runs under Node: the command. Libraries stay outside the bundle; `npm ci` has them. */
export default defineConfig({
  root: import.meta.dirname,
  build: {
    ssr: true,
    target: 'node20',
    outDir: '../dist',
    emptyOutDir: true,
    minify: false,
    rolldownOptions: {
      input: { cli: 'app/cli/main.ts' },
      output: { entryFileNames: '[name].js' },
    },
  },
})
