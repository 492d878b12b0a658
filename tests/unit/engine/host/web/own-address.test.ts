import { expect, test } from 'vitest'
import { isLoopback, isOurHost, isOurOrigin } from '../../../../../app/engine/host/web/own-address.ts'

// RFC 1122, 3.2.1.3 (g), RFC 4291, 2.5.3 and 2.5.5.2.
test.each([
  ['127.0.0.1', true],
  ['127.8.9.10', true],
  ['::1', true],
  ['::ffff:127.0.0.1', true],
  ['192.168.1.20', false],
  ['0.0.0.0', false],
  ['::ffff:192.168.1.20', false],
  ['fe80::1', false],
  ['128.127.0.1', false],
  [undefined, false],
])('%s is this machine over no network: %s', (address, is) => {
  expect(isLoopback(address)).toBe(is)
})

const HERE = { localAddress: '127.0.0.1', port: 4117 }
const NETWORK = { localAddress: '192.168.1.20', port: 4117 }

test.each([
  ['127.0.0.1:4117', HERE, true],
  ['localhost:4117', HERE, true],
  ['192.168.1.20:4117', NETWORK, true],
  ['127.0.0.1:4117', { ...HERE, localAddress: '::ffff:127.0.0.1' }, true],
  ['127.0.0.1', { ...HERE, port: 80 }, true],
  // A name that was made to lead here.
  ['rebound.example:4117', HERE, false],
  ['rebound.example:4117', NETWORK, false],
  // Another way in than the one that was named.
  ['localhost:4117', NETWORK, false],
  ['127.0.0.1:4117', NETWORK, false],
  ['192.168.1.20:4117', HERE, false],
  ['127.0.0.1:4118', HERE, false],
  ['127.0.0.1', HERE, false],
  ['127.0.0.1:80', HERE, false],
  ['127.0.0.1:4117.rebound.example', HERE, false],
  ['127.1:4117', HERE, false],
  ['LOCALHOST.:4117', HERE, false],
  ['', HERE, false],
  [undefined, HERE, false],
])('Host %s at %o: %s', (host, reached, is) => {
  expect(isOurHost(host, reached)).toBe(is)
})

test.each([
  ['http://127.0.0.1:4117', true],
  [undefined, false],
  ['null', false],
  ['http://127.0.0.1', false],
  ['https://127.0.0.1:4117', false],
  ['http://127.0.0.1:4117/', false],
  ['http://localhost:4117', false],
  ['http://127.0.0.1:4117.rebound.example', false],
])('Origin %s under Host 127.0.0.1:4117: %s', (origin, is) => {
  expect(isOurOrigin(origin, '127.0.0.1:4117')).toBe(is)
})
