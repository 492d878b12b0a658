import type { Observable } from 'rxjs'
import { filter, map, merge, share, Subject } from 'rxjs'
import type { ClaimsIn, LampIntent } from '../claims/claims.ts'
import type { LampId, LampIndex, PartIndex } from '../domain/ids.ts'
import type { Intent } from '../domain/intent.ts'
import type { Expression, PartEvent } from '../domain/part-event.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import type { Part, Song } from '../domain/song.ts'
import type { Micros } from '../domain/units.ts'
import type { PartOut } from '../players/part.ts'
import { part as partStage } from '../players/part.ts'
import type { AnyStrategy, LampView, StrategyStep } from '../strategies/strategy.ts'
import { readyOptions } from '../strategies/strategy.ts'
import type { House } from './house.ts'
import { lift, Lifted } from './lift.ts'

/** A part's way from what its player did to what its strategy wants. */
export interface PartBranch {
  /** For the claims: what was played, then what is wanted. */
  readonly wants$: Observable<ClaimsIn>
  /** For the voices already sounding. */
  readonly expressions$: Observable<Expression>
  /** Word from further down: refused, lost, gained. */
  readonly told: Subject<PartEvent>
  /** The song begins: the wake that its strategy wants at once, within the moment. */
  begin(): void
  /** The song's patterns were edited. */
  revise(song: Song): void
}

export interface PartPlace {
  readonly song: Song
  readonly part: Part
  readonly index: PartIndex
  readonly strategy: AnyStrategy
  readonly view: LampView
  readonly lampIndex: ReadonlyMap<LampId, LampIndex>
}

/** `failed`: the part's lamps must go dark. */
export function partBranch(
  place: PartPlace,
  player$: Observable<PlayerEvent>,
  house: House,
  failed: () => void,
): PartBranch {
  const { song, part, index, strategy, view } = place
  const { agenda } = house
  const name = `part ${part.id}`
  const told = new Subject<PartEvent>()

  const share$ = lift(name, partStage, part, agenda, (error) => {
    house.fault(name, error)
    agenda.post(() => told.next({ kind: 'all-off' }))
    agenda.post(failed)
  })
  const played$ = player$.pipe(share$.operator(), share())
  const events$ = played$.pipe(filter(isPartEvent))

  let ready = readyOptions(strategy, song, part)
  const stepped = (before: unknown, step: StrategyStep<unknown>, now: Micros) => {
    const progress = strategy.progress?.(step.state)
    if (progress && progress !== strategy.progress?.(before))
      house.tap({ kind: 'step', at: now, part: part.id, ...progress })
    return { state: step.state, out: step.intents.length > 0 ? [step.intents] : [], wake: step.wake }
  }
  const allocator = new Lifted<unknown, PartEvent, readonly Intent[]>(
    `${name}: ${strategy.kind}`,
    () => strategy.start(ready, part.lamps),
    (state, event, now) => {
      return stepped(state, strategy.step(state, event, view, now), now)
    },
    agenda,
    (error, event) => {
      house.fault(name, error)
      agenda.post(failed)
      // The old state still believes in its lamps: let it end them in its own books, or begin anew where it cannot.
      if (event.kind === 'all-off') allocator.restart()
      else agenda.post(() => told.next({ kind: 'all-off' }))
    },
    strategy.wakesFirst?.(ready),
  )
  const wanted$ = merge(events$, told).pipe(
    allocator.operator(),
    map((intents): ClaimsIn => ({
      kind: 'intents',
      part: index,
      intents: inRig(intents, place, house, agenda.now),
    })),
  )
  // The claims hear of a note before its strategy does, so that the strategy sees the lamps the note claims. A part without a claim has nothing to tell them.
  const wants$ = part.claim
    ? merge(events$.pipe(map((event): ClaimsIn => ({ kind: 'played', part: index, event }))), wanted$)
    : wanted$
  return {
    wants$,
    expressions$: played$.pipe(filter(isExpression)),
    told,
    begin: () => {
      if (allocator.wakeAt <= agenda.now) allocator.wake()
    },
    revise(edited) {
      const { revise } = strategy
      if (!revise) return
      ready = readyOptions(strategy, edited, part)
      allocator.alter((state, now) => stepped(state, revise(state, ready, view, now), now))
    },
  }
}

function inRig(
  intents: readonly Intent[],
  { part, lampIndex }: PartPlace,
  house: House,
  at: Micros,
): LampIntent[] {
  const counted: LampIntent[] = []
  for (const intent of intents) {
    const lamp = lampIndex.get(intent.lamp)
    if (lamp === undefined) {
      const message = `the strategy asked for lamp "${intent.lamp}", which is not in the part`
      house.report({ level: 'fault', source: `part ${part.id}`, code: 'unknown-lamp', message })
    } else if (intent.kind === 'dark') counted.push({ kind: 'dark', lamp })
    else {
      counted.push({ kind: 'light', lamp, voice: intent.voice, strike: intent.strike })
      if (intent.stole !== undefined) {
        house.tap({ kind: 'steal', at, part: part.id, from: intent.stole, to: intent.voice.note })
      }
    }
  }
  return counted
}

function isPartEvent(event: PartOut): event is PartEvent {
  return !isExpression(event)
}

function isExpression(event: PartOut): event is Expression {
  return (
    event.kind === 'bend' || event.kind === 'duty' || event.kind === 'vibrato' || event.kind === 'pitched'
  )
}
