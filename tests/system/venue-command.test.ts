import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { venuePage } from '../../src/offline/venue/venue-page.ts'
import { DEMO_SHOW, DEMO_TAKE, demoShow } from '../support/demo.ts'
import { lanthorn } from '../support/lanthorn.ts'
import { pageWords } from '../support/page-words.ts'
import { scratchFolder } from '../support/scratch.ts'
import { glasshouse } from '../support/shows.ts'
import { checkedGig, strummed, takeFile } from '../support/song-takes.ts'

/** A show with takes named in it, and some of them beside it. */
function house(named: readonly string[] = []) {
  const folder = scratchFolder()
  const show = join(folder, 'show.json')
  const songs = (glasshouse()['songs'] as object[]).map((song) => ({ ...song, takes: [...named] }))
  writeFileSync(show, JSON.stringify(glasshouse({ songs })))
  const take = join(folder, 'five.mid')
  writeFileSync(take, takeFile({ keys: strummed(69, 5, 3) }))
  return { folder, show, take }
}

test('the demo’s page for the venue, with the figures that render writes', () => {
  const folder = scratchFolder()
  const out = join(folder, 'venue.html')
  expect(lanthorn('venue', DEMO_SHOW, '--date', '2031-02-28', '--out', out)).toMatchObject({
    code: 0,
    err: '',
  })
  expect(readdirSync(folder)).toEqual(['venue.html'])
  const page = readFileSync(out, 'utf8')
  const { report } = rendered(folder, 'dew')
  expect(pageWords(page)).toContain(
    `Dew on the panes glasshouse.mid warn ${Number(report.seconds.toPrecision(3))} ${report.flash.fieldPerSecondMax} `,
  )
  expect(pageWords(page)).toContain(
    `counted at most ${Number(report.supplies.bench.peakAmps.toPrecision(3))} A (Dew on the panes)`,
  )
  // The same as it is made here, but for the names of takes.
  const bytes = Uint8Array.from(readFileSync(DEMO_TAKE))
  const gig = checkedGig(demoShow(), { dew: [bytes], mist: [bytes], growth: [bytes] })
  const here = venuePage(demoShow(), gig, { date: '2031-02-28' })
  expect(page).toBe(here.replace(/(dew|mist|growth)-1\.mid/g, 'glasshouse.mid'))
})

function rendered(folder: string, song: string) {
  const out = join(folder, 'rendered')
  expect(lanthorn('render', DEMO_SHOW, DEMO_TAKE, '--song', song, '--out', out).code).toBe(0)
  return {
    report: JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')) as {
      readonly seconds: number
      readonly flash: { readonly fieldPerSecondMax: number }
      readonly supplies: { readonly bench: { readonly peakAmps: number } }
    },
  }
}

test('check counts the takes that the show names, and one given besides', () => {
  const { show, take } = house(['five.mid', 'gone.mid'])
  const ran = lanthorn('check', show)
  // What a take does is no fault of the show.
  expect(ran).toMatchObject({ code: 0, err: '' })
  expect(ran.out).toMatch(/^tide +five\.mid +2\.9 +5 +5 fern +2\.8 /m)
  expect(ran.out).toMatch(/^tide +gone\.mid +could not be counted$/m)
  expect(ran.out).toMatch(/fault: song tide, take gone\.mid\n +there is no such file; check the name/)
  expect(ran.out).toMatch(
    /warning: song tide, take five\.mid\n +the field flashes up to 5 times in one second/,
  )
  expect(ran.out).toMatch(/\n1 fault, \d+ warnings, \d+ notes\n$/)

  const without = house()
  expect(lanthorn('check', without.show).out).toMatch(/note: song tide\n +it has no take, so nothing/)
  const given = lanthorn('check', without.show, '--take', take, '--song', 'tide')
  expect(given.out).toMatch(/the field flashes up to 5 times/)
  expect(given.out).not.toMatch(/it has no take/)
})

test.each([
  ['the show itself', ({ show }: ReturnType<typeof house>) => show, /is the show itself/],
  ['a take that it names', ({ take }: ReturnType<typeof house>) => take, /is a take itself/],
])('1: never over %s', (_, outOf, why) => {
  const files = house(['five.mid'])
  const out = outOf(files)
  const before = readFileSync(out)
  const ran = lanthorn('venue', files.show, '--out', out)
  expect(ran).toMatchObject({ code: 1, out: '' })
  expect(ran.err).toMatch(why)
  expect(readFileSync(out)).toEqual(before)
})

test('a take that is missing is told, and the page is written all the same', () => {
  const { folder, show } = house(['gone.mid'])
  const out = join(folder, 'a.html')
  const ran = lanthorn('venue', show, '--out', out)
  expect(ran).toMatchObject({
    code: 0,
    err: 'song tide, take gone.mid: there is no such file; check the name\n',
  })
  expect(pageWords(readFileSync(out, 'utf8'))).toContain('gone.mid warn could not be counted')
})

test('1, with what to do: no such song, no such folder', () => {
  const { folder, show, take } = house()
  mkdirSync(join(folder, 'there'))
  const song = lanthorn('check', show, '--take', take, '--song', 'none')
  expect(song).toMatchObject({ code: 1, err: 'The show has no song "none"; it has tide\n' })
  const out = lanthorn('venue', show, '--out', join(folder, 'none', 'a.html'))
  expect(out.err).toMatch(/there is no folder .*none; make it/)
})

test.each([
  ['venue without --out', ['venue', 'show.json']],
  ['a day that there is not', ['venue', 'show.json', '--out', 'a.html', '--date', '2031-02-30']],
  ['--song without a take', ['check', DEMO_SHOW, '--song', 'dew']],
])('2, wrong usage: %s', (_, words) => {
  const ran = lanthorn(...words)
  expect(ran.code).toBe(2)
  expect(ran.err.length).toBeGreaterThan(10)
})
