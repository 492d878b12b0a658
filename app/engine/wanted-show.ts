import type { FromEngine } from '../../src/contract/from-engine.ts'
import type { ToEngineInput } from '../../src/contract/to-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'

export interface LoadOptions {
  /** The show file's. */
  readonly text: string
  readonly rig: 'real' | 'virtual'
  readonly song?: string | undefined
  readonly position?: number | undefined
  /** A Standard MIDI File in base64, for players in memory. */
  readonly take?: string | undefined
}

type Load = Extract<ToEngineInput, { type: 'load' }>
type Revise = Extract<ToEngineInput, { type: 'revise' }>
type Tune = Extract<ToEngineInput, { type: 'tune' }>

/** Asked of an engine and not answered. */
interface Asked {
  readonly message: Load | Revise
  /** Engines that ended before they answered. */
  readonly deaths: number
}

/**
 * What an engine is to play, so that the next one can be given it: the show that an engine took, where it was in it, and what has been asked since. What was
 * refused is forgotten.
 */
export class WantedShow {
  #taken: LoadOptions | undefined
  #asked: readonly Asked[] = []
  /** The tuning that its song went on in, where that was not its own. */
  #tuned: string | null = null
  #requests = 0

  /** As it will be once all that was asked is done; undefined before anything was. */
  get latest(): LoadOptions | undefined {
    return this.#asked.reduce((load, { message }) => after(load, message), this.#taken)
  }

  load(options: LoadOptions): Load {
    return this.#ask(loadMessage(options, ++this.#requests))
  }

  revise(text: string): Revise {
    return this.#ask({ v: CONTRACT_VERSION, type: 'revise', text, request: ++this.#requests })
  }

  heard(message: FromEngine): void {
    switch (message.type) {
      case 'loaded':
        if (this.#isLoad(message.request)) this.#tuned = null
        this.#answered(message.request)
        return this.#isAt(message.song, message.position)
      case 'song':
        return this.#isAt(message.song, message.position)
      case 'tuned':
        this.#tuned = message.tuning
        return
      case 'load-failed':
        this.#asked = this.#asked.filter((_, place) => place !== this.#placeOf(message.request))
    }
  }

  /** The engine ended. Returns how many edits are dropped, since two engines ended over them. */
  died(): number {
    const counted = this.#asked.map(({ message, deaths }) => ({ message, deaths: deaths + 1 }))
    this.#asked = this.#taken ? counted.filter(({ deaths }) => deaths < 2) : counted
    return counted.length - this.#asked.length
  }

  /** For an engine that has just greeted: all it needs to be where the one before it was. That one, or another program before us, may have left lamps lit. */
  again(): readonly (Load | Revise | Tune)[] {
    const taken = this.#taken ? [loadMessage(this.#taken, ++this.#requests)] : []
    const asked = this.#asked.map(({ message }) => message)
    const loads = [...taken, ...asked].map((message, place) =>
      message.type === 'load' && place === 0 ? { ...message, recover: true } : message,
    )
    // A show that is loaded anew begins in its songs' tunings.
    if (this.#tuned === null || asked.some(({ type }) => type === 'load')) return loads
    return [...loads, { v: CONTRACT_VERSION, type: 'tune', tuning: this.#tuned, retune: false }]
  }

  #ask<Message extends Load | Revise>(message: Message): Message {
    this.#asked = [...this.#asked, { message, deaths: 0 }]
    return message
  }

  /** An answer answers those before it as well. */
  #answered(request: number | undefined): void {
    const place = this.#placeOf(request)
    for (const { message } of this.#asked.slice(0, place + 1)) this.#taken = after(this.#taken, message)
    this.#asked = this.#asked.slice(place + 1)
  }

  #isLoad(request: number | undefined): boolean {
    return this.#asked[this.#placeOf(request)]?.message.type === 'load'
  }

  #placeOf(request: number | undefined): number {
    return this.#asked.findIndex(({ message }) => message.request === request)
  }

  #isAt(song: string, position: number | null): void {
    if (this.#taken) this.#taken = { ...this.#taken, song, position: position ?? undefined }
  }
}

function after(load: LoadOptions | undefined, message: Load | Revise): LoadOptions | undefined {
  if (message.type === 'load') return message
  return load && { ...load, text: message.text }
}

function loadMessage({ text, rig, song, position, take }: LoadOptions, request: number): Load {
  return {
    v: CONTRACT_VERSION,
    type: 'load',
    text,
    rig,
    ...(song === undefined ? {} : { song }),
    ...(position === undefined ? {} : { position }),
    ...(take === undefined ? {} : { take }),
    request,
  }
}
