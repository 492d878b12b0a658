import { defineConfig } from 'vite'

/** Builds what runs under Node and Electron: the command, the engine, the host, the main process. Libraries stay outside the bundle; `npm ci` has them. */
export default defineConfig({
  root: import.meta.dirname,
  // tonal 6.5.0 names an entry file that it does not ship, so Node cannot load it: it goes into the bundle.
  resolve: { mainFields: ['module', 'main'] },
  ssr: { noExternal: ['tonal', /^@tonaljs\//] },
  build: {
    ssr: true,
    target: 'node20',
    outDir: '../dist',
    emptyOutDir: true,
    minify: false,
    rolldownOptions: {
      input: {
        cli: 'app/cli/main.ts',
        engine: 'app/engine/process.ts',
        host: 'app/engine/host/process.ts',
        main: 'app/main/main.ts',
      },
      // All in one folder: the engine, the screens and the demo are looked for beside the file that asks.
      output: { entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
    },
  },
})
