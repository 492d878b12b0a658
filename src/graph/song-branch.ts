import { filter, map, merge, Subject, Subscription, tap } from 'rxjs'
import type { ClaimsIn, ClaimsOut } from '../claims/claims.ts'
import { claims, mayUse } from '../claims/claims.ts'
import type { HoldIn } from '../claims/hold.ts'
import { hold } from '../claims/hold.ts'
import type { FlashGuard } from '../domain/flash-guard.ts'
import { flashGuardOf } from '../domain/flash-guard.ts'
import type { LampIndex, NoteId, OutputId, PartId, PartIndex, PlayerId } from '../domain/ids.ts'
import type { LampState } from '../domain/lamp-state.ts'
import type { Order } from '../domain/order.ts'
import type { PartEvent, RefusalReason } from '../domain/part-event.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import type { TimerSpec } from '../domain/rig.ts'
import type { Show } from '../domain/show.ts'
import type { Part, Song } from '../domain/song.ts'
import type { Wish } from '../domain/wish.ts'
import type { SongTimeNow } from '../time/song-time.ts'
import type { AnyStrategy } from '../strategies/strategy.ts'
import { msToMicros } from '../time/beats.ts'
import type { KeyTuning } from '../domain/tuning-spec.ts'
import type { ResolveConfig, ResolveIn, ResolveOut, ResolvePart } from '../tuning/resolve.ts'
import { resolve } from '../tuning/resolve.ts'
import { foldOf } from '../tuning/unseen.ts'
import type { Agenda } from './agenda.ts'
import { CellGroup } from './cell-group.ts'
import type { House } from './house.ts'
import { lift } from './lift.ts'
import type { PartBranch } from './part-branch.ts'
import { partBranch } from './part-branch.ts'
import { sameUntilChanged } from './same-until-changed.ts'

/** What a song is told as it begins: how a player stands. */
export interface Told {
  readonly player: PlayerId
  readonly event: PlayerEvent
}

/** A song at work: what its players do becomes what its lamps shall do. It may be made ready before, and plays once. */
export interface SongBranch {
  readonly song: Song
  /** Its players, and the controllers of each that it goes by. */
  readonly listens: readonly { readonly player: PlayerId; readonly controllers: readonly number[] }[]
  /** Takes its place in the agenda. */
  goOn(): void
  /** What it is told, it makes one beginning of: each lamp's last order counts, and one that sounds the same note already goes on. Done when nothing posted is left. */
  begin(told: readonly Told[], lamps: readonly LampState[]): void
  play(player: PlayerId, event: PlayerEvent): void
  /** Whether a note has a lamp, lit or about to be. */
  hasLamp(player: PlayerId, note: NoteId): boolean
  /** The part that has the lamp for a note, lit or about to be. */
  ownerOf(lamp: LampIndex): PartId | undefined
  /** Per lamp: the part whose claim has it; the same list until a claim comes or goes. */
  claimed(): readonly (PartId | undefined)[]
  /** A guard refused the lamp to the note that is on it. */
  refuse(lamp: LampIndex, reason: RefusalReason): void
  /** All is dark: what is held back is dropped, and claims are given back. */
  clear(): void
  /** A lamp box turned out to have another timer. */
  retimer(output: OutputId, timer: TimerSpec): void
  /** Its parts go on in these tunings, by part. `retune`: what sounds as well. */
  tune(tunings: readonly KeyTuning[], retune: boolean): void
  /** Its beats go otherwise than before. */
  retime(hasJumped: boolean): void
  /** The song with other patterns or another flash guard, and nothing else of it changed: it plays on, each row where it is. */
  revise(song: Song, flash: FlashGuard): void
  /** Another song plays: from here on nothing of this one happens. */
  leave(): void
  /** Ends its subscriptions. */
  dispose(): void
}

export interface SongPlace {
  readonly show: Show
  readonly strategies: readonly AnyStrategy[]
  readonly house: House
  readonly agenda: Agenda
  readonly time: () => SongTimeNow
  /** Per part, as it is made ready. */
  readonly tunings: readonly KeyTuning[]
  /** All wishes of one step. */
  readonly wish: (wishes: readonly Wish[]) => void
}

export function songBranch(
  song: Song,
  { show, strategies, house: whole, agenda, time, tunings, wish }: SongPlace,
): SongBranch {
  const cells = new CellGroup(agenda)
  const isTakenUp = cells.saved('resolve') !== undefined
  const house: House = { ...whole, agenda: cells }
  const players = new Map(show.players.map(({ id }) => [id, new Subject<PlayerEvent>()]))
  const { lamps } = show.rig
  const lampIndex = new Map(lamps.map((lamp, index) => [lamp.id, index]))
  const partLamps = song.parts.map((part) => part.lamps.map((id) => lampIndex.get(id) ?? -1))
  const raised = new Subject<ClaimsIn>()
  const resolved = new Subject<ResolveIn>()
  /** Orders of the song's beginning, put by until all are there. */
  let gathered: Map<LampIndex, Order> | undefined
  let isBeginning = false
  /** The song is being told how players stand. */
  let isTelling = false
  const broken = (name: string) => (error: unknown) => {
    house.fault(name, error)
    cells.post(() => house.darkAll())
  }

  const claimsConfig = {
    lamps: lamps.length,
    parts: song.parts.map((part, index) => ({ lamps: partLamps[index] ?? [], claim: part.claim })),
  }
  const claimedBy = sameUntilChanged((holder: readonly PartIndex[]) =>
    holder.map((part) => song.parts[part]?.id),
  )
  const claimsCell = lift('claims', claims, claimsConfig, cells, broken('claims'))

  const parts = song.parts.map((part, index): PartBranch => {
    const indexes = partLamps[index] ?? []
    const strategy = strategies.find(({ kind }) => kind === part.strategy.kind)
    const player$ = players.get(part.player)
    if (!strategy || !player$)
      throw new Error(`Part "${part.id}" of song "${song.id}" names an unknown strategy or player`)
    const view = {
      lamps: part.lamps,
      get tempo() {
        return time().tempo
      },
      get time() {
        return time().clock
      },
      usable: (place: number) => {
        const lamp = indexes[place]
        return lamp !== undefined && mayUse(claimsCell.state, index, lamp)
      },
      isBeginning: () => isTelling,
    }
    return partBranch({ song, part, index, strategy, view, lampIndex }, player$, house, () =>
      raised.next({ kind: 'failed', part: index }),
    )
  })

  const tell = (index: PartIndex, event: PartEvent): void => {
    cells.post(() => parts[index]?.told.next(event))
  }
  const refused = (part: PartIndex, lamp: LampIndex, id: NoteId, reason: RefusalReason): void => {
    const at = cells.now
    house.tap({
      kind: 'refused',
      at,
      part: song.parts[part]?.id ?? '',
      note: id,
      lamp: lamps[lamp]?.id ?? '',
      reason,
    })
    tell(part, { kind: 'refused', lamp: lamps[lamp]?.id ?? '', id, reason })
  }
  const answer = (out: ClaimsOut): void => {
    if (out.kind === 'refused') refused(out.part, out.lamp, out.note, out.reason)
    else if (out.kind === 'gained') tell(out.part, { kind: 'gained', lamp: lamps[out.lamp]?.id ?? '' })
    else if (out.kind === 'lost') {
      const ends = song.parts[out.part]?.onLost === 'end'
      tell(out.part, { kind: 'lost', lamp: lamps[out.lamp]?.id ?? '', ends })
    }
  }

  const orders$ = merge(...parts.map((part) => part.wants$), raised).pipe(
    claimsCell.operator(),
    tap(answer),
    filter((out) => out.kind === 'orders'),
    filter(({ orders }) => {
      for (const order of orders) gathered?.set(order.lamp, order)
      return gathered === undefined
    }),
  )
  const expressions$ = merge(
    ...parts.map(({ expressions$: one$ }, part) =>
      one$.pipe(map((expression): ResolveIn => ({ kind: 'expression', part, expression }))),
    ),
  )
  const resolveCell = lift(
    'resolve',
    resolve,
    resolveConfig(show, song, partLamps, tunings),
    cells,
    broken('resolve'),
  )
  const wished$ = merge(orders$, expressions$, resolved).pipe(
    resolveCell.operator(),
    tap((out: ResolveOut) => {
      if (out.kind === 'folded') {
        const { from, to } = out
        const part = song.parts[out.part]?.id ?? ''
        house.tap({ kind: 'folded', at: cells.now, part, lamp: lamps[out.lamp]?.id ?? '', from, to })
      }
      if (out.kind !== 'refused') return
      const { lamp, part, note, reason } = out
      cells.post(() => raised.next({ kind: 'refused', lamp, part, note, reason }))
    }),
    filter((out) => out.kind === 'wishes'),
  )
  const isHeldBack =
    lamps.some((lamp) => lamp.delayMs + offsetOf(show, lamp.output) > 0) ||
    song.parts.some((part) => part.gapMs > 0)
  const holdConfig = { delays: lamps.map((lamp) => msToMicros(lamp.delayMs + offsetOf(show, lamp.output))) }
  const cleared = new Subject<HoldIn>()
  const holdCell = lift('hold', hold, holdConfig, cells, broken('hold'))
  const holdable$ = wished$.pipe(
    map(({ wishes }): HoldIn => ({ kind: isBeginning ? 'begin' : 'wishes', wishes })),
  )
  const held$ = isHeldBack ? merge(holdable$, cleared).pipe(holdCell.operator()) : wished$
  const subscription = new Subscription()
  subscription.add(held$.subscribe(({ wishes }) => wish(wishes)))

  return {
    song,
    listens: listensOf(song),
    goOn() {
      cells.goOn()
      // A song that is taken up again knows how its beats go, and must not step out of its turn.
      if (!isTakenUp) resolved.next({ kind: 'time', time: beatsNow(time()) })
    },
    begin(told, before) {
      gathered = new Map()
      isTelling = true
      for (const { player, event } of told) players.get(player)?.next(event)
      isTelling = false
      for (const part of parts) part.begin()
      cells.afterwards(() => {
        const orders = [...(gathered?.values() ?? [])]
        gathered = undefined
        isBeginning = true
        if (orders.length > 0) resolved.next({ kind: 'begin', orders, lamps: before })
        isBeginning = false
      })
    },
    play: (player, event) => players.get(player)?.next(event),
    hasLamp(player, note) {
      const { owner, note: notes } = claimsCell.state
      return notes.some((one, lamp) => one === note && song.parts[owner[lamp] ?? -1]?.player === player)
    },
    clear() {
      raised.next({ kind: 'dark-all' })
      cleared.next({ kind: 'clear' })
    },
    tune: (tunings, retune) => resolved.next({ kind: 'tunings', tunings, retune }),
    retime(hasJumped) {
      resolved.next({ kind: 'time', time: beatsNow(time()) })
      parts.forEach((_, index) => tell(index, hasJumped ? { kind: 'tempo', hasJumped } : { kind: 'tempo' }))
    },
    retimer: (output, timer) => resolved.next({ kind: 'timer', output, timer }),
    ownerOf: (lamp) => song.parts[claimsCell.state.owner[lamp] ?? -1]?.id,
    claimed: () => claimedBy(claimsCell.state.holder),
    refuse(lamp, reason) {
      const part = claimsCell.state.owner[lamp] ?? -1
      const note = claimsCell.state.note[lamp] ?? 0
      if (part >= 0) raised.next({ kind: 'refused', lamp, part, note, reason })
    },
    revise(edited, flash) {
      for (const part of parts) cells.post(() => part.revise(edited))
      resolved.next({ kind: 'fold', fold: foldOf(flash) })
    },
    leave: () => cells.leave(),
    dispose: () => subscription.unsubscribe(),
  }
}

function listensOf({ parts }: Song): SongBranch['listens'] {
  return [...new Set(parts.map(({ player }) => player))].map((player) => {
    const own = parts.filter((part) => part.player === player)
    return { player, controllers: [...new Set(own.flatMap(controllersOf))] }
  })
}

function controllersOf({ duty, vibrato, pulse }: Part): number[] {
  return [duty, vibrato, pulse].flatMap((source) => source?.controller ?? [])
}

function offsetOf(show: Show, id: OutputId): number {
  return show.rig.outputs.find((output) => output.id === id)?.offsetMs ?? 0
}

function beatsNow({ clock, tempo }: SongTimeNow) {
  return { clock, tempo }
}

function resolveConfig(
  show: Show,
  song: Song,
  partLamps: readonly (readonly LampIndex[])[],
  tunings: readonly KeyTuning[],
): ResolveConfig {
  return {
    wander: song.wander,
    fold: foldOf(flashGuardOf(show, song)),
    lamps: show.rig.lamps.map((lamp) => {
      const output = show.rig.outputs.find(({ id }) => id === lamp.output)
      if (!output) throw new Error(`Lamp "${lamp.id}" names an unknown output`)
      return { lamp, output }
    }),
    parts: song.parts.map((part, index): ResolvePart => {
      const tuning = tunings[index]
      if (!tuning) throw new Error(`Part "${part.id}" of song "${song.id}" has no tuning`)
      const { id, player, duty, transpose, glide, vibrato, pulse } = part
      return {
        id,
        player,
        lamps: partLamps[index] ?? [],
        tuning,
        duty: duty.base,
        dutyBy: duty,
        transpose,
        gap: msToMicros(part.gapMs),
        glide,
        vibrato,
        pulse,
      }
    }),
  }
}
