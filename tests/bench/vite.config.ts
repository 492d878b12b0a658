import { defineConfig } from 'vite'

/** Bundles the benchmarks as the command is bundled, so that they measure what runs. */
export default defineConfig({
  root: `${import.meta.dirname}/../..`,
  resolve: { mainFields: ['module', 'main'] },
  ssr: { noExternal: ['tonal', /^@tonaljs\//] },
  build: {
    ssr: true,
    target: 'node20',
    outDir: 'dist/bench',
    minify: false,
    rolldownOptions: { input: { run: 'tests/bench/run.ts' }, output: { entryFileNames: '[name].js' } },
  },
})
