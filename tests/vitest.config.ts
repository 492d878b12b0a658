import { defineConfig } from 'vitest/config'

export default defineConfig({
  root: `${import.meta.dirname}/..`,
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 120_000,
    reporters: process.env.CI ? ['default', 'json'] : ['default'],
    outputFile: { json: 'dist/test-report.json' },
  },
})
