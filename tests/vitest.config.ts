import { defineConfig } from 'vitest/config'

export default defineConfig({
  root: `${import.meta.dirname}/..`,
  ssr: { resolve: { mainFields: ['module', 'main'] } },
  test: {
    globalSetup: 'tests/support/build-command.ts',
    include: ['tests/**/*.test.ts'],
    // tonal 6.5.0 names an entry file that it does not ship; bundlers find the right one.
    server: { deps: { inline: ['tonal', /@tonaljs/] } },
    // Tests of screens and of real processes wait more than they work.
    maxWorkers: 2,
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // A page in a browser beside other tests may take its time; a poll ends as soon as what it waits for holds.
    expect: { poll: { timeout: 30_000 } },
    reporters: process.env.CI ? ['default', 'json'] : ['default'],
    outputFile: { json: 'dist/test-report.json' },
  },
})
