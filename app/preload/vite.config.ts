import { defineConfig } from 'vite'

/** The preload script of a sandboxed window: one CommonJS file that requires nothing but Electron. */
export default defineConfig({
  root: import.meta.dirname,
  build: {
    target: 'chrome140',
    outDir: '../../dist',
    emptyOutDir: false,
    minify: false,
    lib: { entry: 'preload.ts', formats: ['cjs'], fileName: () => 'preload.cjs' },
    rolldownOptions: { external: ['electron'] },
  },
})
