import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, relative, resolve } from 'node:path'
import { expect, test } from 'vitest'

/** Each folder, and the folders it may import from besides itself. */
const STAGES = ['midi', 'players', 'strategies', 'claims', 'guards', 'tuning', 'outputs']
const STAGE_MAY = ['src/domain', 'src/time']
const MAY: Record<string, readonly string[]> = {
  'src/domain': [],
  'src/time': ['src/domain'],
  ...Object.fromEntries(STAGES.map((stage) => [`src/${stage}`, STAGE_MAY])),
  'src/show': ['src/domain'],
  'src/contract': ['src/domain'],
  'src/graph': [...STAGE_MAY, ...STAGES.map((stage) => `src/${stage}`)],
  'src/offline': [...STAGE_MAY, ...STAGES.map((stage) => `src/${stage}`), 'src/graph', 'src/show'],
  'app/engine': ['src'],
  'app/cli': ['src', 'app/engine'],
  'app/main': ['src/contract', 'src/domain', 'app/preload'],
  'app/preload': ['src/contract', 'src/domain'],
  'app/screens': ['src/contract', 'src/domain'],
}
/** Packages that a pure folder may use; all others and everything of Node or the browser are for `app`. */
const PURE_PACKAGES = ['zod', 'tonal', 'fastest-levenshtein', 'jsonc-parser', 'rxjs']

const ROOT = resolve(import.meta.dirname, '../..')

interface Import {
  readonly from: string
  readonly to: string
}

function sourceFiles(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.m?ts$/.test(entry.name) && !entry.name.endsWith('.config.ts'))
    .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)))
}

const IMPORT =
  /(?:^|\n)\s*(?:import|export)\s[^'"`;]*?from\s*['"]([^'"]+)['"]|import\(\s*['"]([^'"]+)['"]|(?:^|\n)import\s+['"]([^'"]+)['"]/g

function importsOf(file: string): Import[] {
  const text = readFileSync(join(ROOT, file), 'utf8')
  return [...text.matchAll(IMPORT)].map((found) => {
    const target = found[1] ?? found[2] ?? found[3] ?? ''
    return {
      from: file,
      to: target.startsWith('.') ? relative(ROOT, resolve(ROOT, dirname(file), target)) : target,
    }
  })
}

function folderOf(file: string): string {
  return Object.keys(MAY).find((folder) => file.startsWith(`${folder}/`)) ?? dirname(file)
}

const files = [...sourceFiles('src'), ...sourceFiles('app')]
const imports = files.flatMap(importsOf)

function isAllowed({ from, to }: Import): boolean {
  const folder = folderOf(from)
  if (to.startsWith('src/') || to.startsWith('app/')) {
    if (to.startsWith(`${folder}/`)) return true
    // Screens and the windows' process see the show's types, never its code.
    return (MAY[folder] ?? []).some((other) => to.startsWith(`${other}/`))
  }
  if (!from.startsWith('src/')) return true
  if (to === 'rxjs') return folder === 'src/graph'
  return PURE_PACKAGES.includes(to)
}

test('every source file stands in a folder that the rule knows', () => {
  expect(files.filter((file) => !(folderOf(file) in MAY))).toEqual([])
  expect(files.length).toBeGreaterThan(100)
})

test('folders import only what they may', () => {
  expect(imports.length).toBeGreaterThan(300)
  expect(imports.filter((one) => !isAllowed(one)).map(({ from, to }) => `${from} imports ${to}`)).toEqual([])
})

test('the rule sees a breach', () => {
  const breaches: Import[] = [
    { from: 'src/tuning/x.ts', to: 'src/midi/decode.ts' },
    { from: 'src/domain/x.ts', to: 'src/time/beats.ts' },
    { from: 'src/players/x.ts', to: 'rxjs' },
    { from: 'src/show/x.ts', to: 'src/strategies/registry.ts' },
    { from: 'src/midi/x.ts', to: 'node:fs' },
    { from: 'src/graph/x.ts', to: 'electron' },
    { from: 'app/screens/x.ts', to: 'src/graph/graph.ts' },
    { from: 'src/graph/x.ts', to: 'src/offline/render.ts' },
  ]
  expect(breaches.filter(isAllowed)).toEqual([])
})

test('nothing imports in a circle', () => {
  const targets = new Map<string, string[]>()
  for (const { from, to } of imports) targets.set(from, [...(targets.get(from) ?? []), to])
  const done = new Set<string>()
  const circles: string[] = []
  const visit = (file: string, way: readonly string[]): void => {
    if (way.includes(file)) circles.push([...way.slice(way.indexOf(file)), file].join(' -> '))
    else if (!done.has(file)) {
      for (const target of targets.get(file) ?? []) visit(target, [...way, file])
      done.add(file)
    }
  }
  for (const file of files) visit(file, [])
  expect(circles).toEqual([])
})

test('pure folders use no clock, no chance and no global of Node or the browser', () => {
  const forbidden =
    /\b(Date\.now|new Date|Math\.random|performance\.now|process\.|Buffer\b|setTimeout|document\.|window\.)/
  const breaches = sourceFiles('src').filter((file) => forbidden.test(readFileSync(join(ROOT, file), 'utf8')))
  expect(breaches).toEqual([])
})
