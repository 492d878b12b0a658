import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { startDesktop } from '../../support/desktop.ts'

async function fetched(address: string) {
  const { electron, screens } = await startDesktop()
  mkdirSync(join(screens, 'assets'))
  writeFileSync(join(screens, 'assets', 'index.js'), 'export {}')
  writeFileSync(join(screens, 'assets', 'secret.key'), 'not for pages')
  writeFileSync(`${screens}-beside.js`, 'not among the screens')
  const response = await electron.protocolHandler?.({ url: address } as Request)
  if (!response) throw new Error('no handler')
  return response
}

test('the page and its files are served, with a policy that lets nothing else in', async () => {
  const page = await fetched('lanthorn://screens/')
  expect(page.status).toBe(200)
  expect(page.headers.get('content-type')).toBe('text/html; charset=utf-8')
  const policy = page.headers.get('content-security-policy') ?? ''
  expect(policy).toContain("default-src 'none'")
  expect(policy).toContain("script-src 'self';")
  expect(policy).not.toContain('connect-src')
  const script = await fetched('lanthorn://screens/assets/index.js')
  expect([script.status, await script.text()]).toEqual([200, 'export {}'])
})

test.each([
  'lanthorn://screens/../../etc/passwd',
  'lanthorn://screens/%2e%2e/%2e%2e/etc/hosts.js',
  'lanthorn://screens/..%2f..%2fetc%2fhosts.js',
  'lanthorn://elsewhere/index.html',
  'lanthorn://screens/assets/secret.key',
  'lanthorn://screens/nothing.js',
  'lanthorn://screens/%00.js',
  'lanthorn://screens/%',
  'lanthorn://screens/assets',
  'not an address',
])('%s is not here', async (address) => {
  expect((await fetched(address)).status).toBe(404)
})

test('the scheme is registered before the app is ready', async () => {
  const { electron } = await startDesktop()
  expect(electron.schemes).toMatchObject([
    { scheme: 'lanthorn', privileges: { standard: true, secure: true } },
  ])
  expect(electron.log.indexOf('scheme')).toBeLessThan(electron.log.indexOf('fork'))
})
