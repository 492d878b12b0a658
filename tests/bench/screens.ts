import { resolve } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { WebSocketServer } from 'ws'
import type { WebSocket } from 'ws'
import type { LampStatus } from '../../src/contract/from-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import type { Show } from '../../src/domain/show.ts'
import { startChromium } from '../support/chromium.ts'
import type { HostWord } from '../support/house-words.ts'
import { houseWords } from '../support/house-words.ts'
import { serveFolder } from '../support/serve-folder.ts'
import { wideRigShow } from '../support/wide-rig.ts'
import type { MeasuredSpread } from './spread.ts'
import { spreadOf } from './spread.ts'

const LAMPS = 64
const SECONDS = 6
/** The Stage is to hold this; a screen of 60 Hz gives no more than 60. */
const WANTED = 55

interface Load {
  readonly what: string
  /** Whole lists of lamps, as the engine says them. */
  readonly listsPerSecond: number
  readonly changesPerSecond: number
}

const LOADS: readonly Load[] = [
  { what: 'nothing changes', listsPerSecond: 0, changesPerSecond: 0 },
  { what: 'as the engine says it', listsPerSecond: 30, changesPerSecond: 200 },
  { what: 'every change told by itself', listsPerSecond: 200, changesPerSecond: 200 },
  { what: 'every lamp changes each time', listsPerSecond: 30, changesPerSecond: 30 * LAMPS },
]

interface Row extends MeasuredSpread {
  readonly what: string
  readonly framesPerSecond: number
  /** Frames that showed something new: what came in between two of them is shown once. */
  readonly newPictures: number
}

/** Frames a second of the Stage with 64 lamps, in headless Chromium, over a web socket; times are between frames, in milliseconds. */
export async function benchScreens(): Promise<void> {
  const browser = await startChromium()
  try {
    const rows: Row[] = []
    for (const load of LOADS) rows.push(await framesUnder(browser, load))
    console.log(`The Stage with ${LAMPS} lamps at 1280 x 800, ${SECONDS} s each`)
    console.table(rows)
    const slow = rows.filter(({ framesPerSecond }) => framesPerSecond < WANTED).map(({ what }) => what)
    console.log(
      slow.length > 0
        ? `Below ${WANTED} frames a second: ${slow.join('; ')}`
        : `All hold ${WANTED} frames a second`,
    )
    console.log(JSON.stringify({ node: process.version, browser: browser.version(), screens: rows }))
  } finally {
    await browser.close()
  }
}

async function framesUnder(browser: Browser, load: Load): Promise<Row> {
  const served = await serveFolder(resolve('dist/screens'))
  const sockets = new WebSocketServer({ server: served.server, path: '/host' })
  const show = wideRigShow(LAMPS)
  const entered = new Promise<WebSocket>((done) => {
    sockets.on('connection', (socket) => {
      socket.once('message', () => {
        for (const word of houseWords(show)) say(socket, word)
        done(socket)
      })
    })
  })
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } })
  const page = await context.newPage()
  await page.goto(`${served.url}#stage`)
  const socket = await entered
  await page.locator('.lamp').last().waitFor()
  const stop = play(socket, show, load)
  const row = await measure(page, load.what)
  stop()
  await context.close()
  sockets.close()
  for (const client of sockets.clients) client.terminate()
  await served.stop()
  return row
}

function say(socket: WebSocket, word: HostWord): void {
  socket.send(JSON.stringify({ v: CONTRACT_VERSION, ...word }))
}

/** Changes lamp after lamp, every other one dark, and says the whole list as often as asked; by the time that has passed, so that late timers lose nothing. */
function play(socket: WebSocket, show: Show, { listsPerSecond, changesPerSecond }: Load): () => void {
  if (listsPerSecond === 0) return () => {}
  const lamps: LampStatus[] = show.rig.lamps.map(({ id }) => ({ lamp: id, on: false }))
  const begun = performance.now()
  let said = 0
  let changed = 0
  const timer = setInterval(() => {
    const seconds = (performance.now() - begun) / 1000
    for (; said < Math.floor(seconds * listsPerSecond); said++) {
      const due = Math.floor(((said + 1) / listsPerSecond) * changesPerSecond)
      for (; changed < due; changed++) lamps[changed % LAMPS] = lampAt(show, changed)
      say(socket, { type: 'lamps', at: Math.round(seconds * 1e6), lamps })
    }
  }, 2)
  return () => clearInterval(timer)
}

function lampAt(show: Show, change: number): LampStatus {
  const lamp = show.rig.lamps[change % LAMPS]?.id ?? ''
  // A lamp's turn comes each 64 changes; an odd stride makes every turn of it differ.
  const key = 36 + ((change * 7 + Math.floor(change / LAMPS)) % 60)
  if ((change + Math.floor(change / LAMPS)) % 4 === 3) return { lamp, on: false }
  const part = show.songs[0]?.parts[change % 3]
  const hz = 440 * 2 ** ((key - 69) / 12)
  const duty = 0.05 + (change % 10) / 22
  return {
    lamp,
    on: true,
    ...(part ? { part: part.id, player: part.player } : {}),
    key,
    hz,
    realHz: hz,
    cents: -0.02,
    duty,
  }
}

async function measure(page: Page, what: string): Promise<Row> {
  const { times, pictures } = await page.evaluate<{
    times: number[]
    pictures: number
  }>(`new Promise((done) => {
    const deep = (root, selector) => {
      const found = root.querySelector(selector)
      if (found) return found
      for (const element of root.querySelectorAll('*')) {
        const inside = element.shadowRoot && deep(element.shadowRoot, selector)
        if (inside) return inside
      }
    }
    const lamp = deep(document, '.plan').querySelectorAll('.lamp')
    const times = []
    let pictures = 0
    let seen = ''
    let before = performance.now()
    const until = before + ${SECONDS * 1000}
    const frame = (now) => {
      times.push(now - before)
      before = now
      let text = ''
      for (const one of lamp) text += one.textContent
      if (text !== seen) pictures += 1
      seen = text
      if (now < until) requestAnimationFrame(frame)
      else done({ times: times.slice(1), pictures })
    }
    requestAnimationFrame(frame)
  })`)
  const seconds = times.reduce((sum, time) => sum + time, 0) / 1000
  return {
    what,
    framesPerSecond: Math.round((times.length / seconds) * 10) / 10,
    newPictures: pictures,
    ...spreadOf(times),
  }
}
