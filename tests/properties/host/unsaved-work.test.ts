import {
  cpSync,
  existsSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { eventually } from '../../support/eventually.ts'
import { HeldScreen, HostRun, retitle } from '../../support/host-run.ts'
import { checkAsyncProperty } from '../../support/property.ts'
import { scratchFolder } from '../../support/scratch.ts'
import { glasshouseText } from '../../support/shows.ts'

type Deed = 'edit' | 'undo' | 'redo' | 'save' | 'time' | 'rest'

interface Doing {
  readonly deed: Deed
  /** Turns of the loop before the next deed: the disk gets on a little. */
  readonly turns: number
}

const doings = fc.array(
  fc.record<Doing>({
    deed: fc.constantFrom<Deed>('edit', 'edit', 'edit', 'undo', 'redo', 'save', 'time', 'rest', 'rest'),
    turns: fc.nat({ max: 12 }),
  }),
  { minLength: 1, maxLength: 14 },
)

/** A band's screen, which knows what it was told as kept and as saved, and how much of the journal was lasting then. */
class Witness extends HeldScreen {
  readonly titles = new Map<number, string>()
  readonly #unsaved: string
  readonly #asked: number[] = []
  #acknowledged = 0
  lasting: { readonly path: string; readonly size: number; readonly ino: number } | undefined

  constructor(unsaved: string) {
    super()
    this.#unsaved = unsaved
  }

  /** The latest revision that was told as being on the disk. */
  get acknowledged(): number {
    return this.#acknowledged
  }

  /** All that was asked to be saved is. */
  get isAtRest(): boolean {
    return this.#asked.length === 0
  }

  save(): void {
    this.#asked.push(this.last('show').revision)
    this.ask({ type: 'save' })
  }

  override send(message: unknown): void {
    super.send(message)
    const told = this.told.at(-1)
    if (told?.type === 'show') this.titles.set(told.revision, told.show.title)
    if (told?.type === 'saved') this.#acknowledge(this.#asked.shift() ?? 0)
    if (told?.type === 'failed') throw new Error(told.message)
    if (told?.type === 'kept') {
      this.#acknowledge(told.revision ?? 0)
      const path = journalIn(this.#unsaved)
      const { size = 0, ino = 0 } = path === undefined ? {} : statSync(path)
      this.lasting = path === undefined ? undefined : { path, size, ino }
    }
  }

  #acknowledge(revision: number): void {
    this.#acknowledged = Math.max(this.#acknowledged, revision)
  }
}

function journalIn(folder: string): string | undefined {
  const name = existsSync(folder) ? readdirSync(folder).find((one) => one.endsWith('.journal')) : undefined
  return name === undefined ? undefined : join(folder, name)
}

async function turns(count: number): Promise<void> {
  for (let turn = 0; turn < count; turn++) await new Promise((resolve) => setImmediate(resolve))
}

async function perform(run: HostRun, screen: Witness, deed: Deed, count: number): Promise<void> {
  switch (deed) {
    case 'edit':
      // Not one step with the edit before it.
      run.timers.skip(2_000)
      return retitle(screen, `Title ${count}`)
    case 'undo':
      return screen.ask({ type: 'undo' })
    case 'redo':
      return screen.ask({ type: 'redo' })
    case 'save':
      return screen.save()
    case 'time':
      return run.timers.move(250)
    case 'rest':
      return rest(run, screen)
  }
}

/** A disk as it is at some moment. Threads of the process go on meanwhile, and may rename a file between its being listed and its being copied: then another moment is taken. */
function copyOf(folder: string): string {
  for (;;) {
    const disk = scratchFolder()
    try {
      cpSync(folder, disk, { recursive: true })
      return disk
    } catch (error) {
      if (!(error instanceof Error && 'code' in error && error.code === 'ENOENT')) throw error
      rmSync(disk, { recursive: true })
    }
  }
}

/** All that was asked is done, and what is unsaved is kept. */
async function rest(run: HostRun, screen: Witness): Promise<void> {
  await eventually(() => screen.isAtRest)
  if (!screen.last('show').isSaved) await run.kept(screen)
}

/** Bytes of the journal that a power cut may take: what was written since it was last made to last. */
function atRisk(
  lasting: Witness['lasting'],
): { readonly path: string; readonly from: number; readonly to: number } | undefined {
  if (!lasting || !existsSync(lasting.path)) return undefined
  const { size, ino } = statSync(lasting.path)
  // Another file has the name by now: it was made to last before it got it.
  return ino === lasting.ino && size > lasting.size
    ? { path: lasting.path, from: lasting.size, to: size }
    : undefined
}

test('whatever is done and whenever it ends: the file is whole, and what is found again is as new as anything that was told as kept or saved', async () => {
  const met = { offered: 0, torn: 0, saved: 0, parts: 0 }
  await checkAsyncProperty(
    'crashes between edits and saves',
    fc.asyncProperty(
      doings,
      fc.oneof(fc.nat({ max: 40 }), fc.nat({ max: 4_000 })),
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.boolean(),
      async (all, last, share, isPowerCut) => {
        const folder = scratchFolder()
        const path = join(folder, 'show.json')
        writeFileSync(path, glasshouseText({ title: 'At first' }))
        const run = new HostRun(folder)
        await run.host.begin({ show: path })
        const screen = new Witness(join(folder, 'state', 'unsaved'))
        run.host.attach(screen, { place: 'browser', key: '' })
        for (const [count, { deed, turns: some }] of all.entries()) {
          await perform(run, screen, deed, count)
          await turns(some)
        }
        await turns(last)

        // The moment of the crash: the disk as it is now, whatever the process would have done next.
        const disk = copyOf(folder)
        const { acknowledged } = screen
        const risk = isPowerCut ? atRisk(screen.lasting) : undefined
        const titles = [...screen.titles]
        const savedOnes = screen.of('saved').length
        await run.end()
        rmSync(folder, { recursive: true })
        cpSync(disk, folder, { recursive: true })
        if (risk) {
          truncateSync(risk.path, risk.from + Math.floor(share * (risk.to - risk.from)))
          met.torn += 1
        }
        met.parts += readdirSync(folder).filter((name) => name.endsWith('.part')).length

        const next = run.crash()
        expect(await next.host.begin({ show: path })).toBeUndefined()
        const seen = next.screen('browser')
        const inFile = seen.last('show').show.title
        expect(JSON.parse(readFileSync(path, 'utf8'))).toMatchObject({ title: inFile })
        const { found } = seen.last('recoveries')
        expect(found.length).toBeLessThan(2)
        const [offered] = found
        met.offered += found.length
        met.saved += savedOnes
        const back = offered?.title ?? inFile
        const newer = titles.filter(([revision]) => revision >= acknowledged).map(([, title]) => title)
        expect(newer).toContain(back)
        if (!offered) return
        seen.ask({ type: 'recovery', id: offered.id, do: 'open' })
        await eventually(() => seen.last('show').show.title === back)
        await eventually(() => seen.last('recoveries').found.length === 0)
      },
    ),
    100,
  )
  // All of it was really met.
  expect(met.offered).toBeGreaterThan(15)
  expect(met.saved).toBeGreaterThan(10)
  expect(met.torn).toBeGreaterThan(0)
})
