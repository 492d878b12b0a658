import type { TemplateResult } from 'lit'
import { html, nothing } from 'lit'
import type { LampStatus } from '../../../src/contract/from-engine.ts'
import type { Spot } from '../stage/plan-layout.ts'
import type { OwnerMark } from '../style/owner-mark.ts'
import { cents, hertz, percent } from '../wording/figures.ts'
import { noteName } from '../wording/note-name.ts'

export interface LampFigure {
  readonly name: string
  readonly status: LampStatus | undefined
  readonly owner: OwnerMark | undefined
  /** It is lit by a part that may take lamps from others. */
  readonly isClaimed: boolean
  readonly spot: Spot
}

/**
 * One lamp on the plan: a round head on its stem, lit as steadily as its duty says, and its plate below. All boxes are of one size whatever is in them, so that
 * a change repaints this lamp and moves nothing.
 */
export function lampFigure({ name, status, owner, isClaimed, spot }: LampFigure): TemplateResult {
  const isLit = status?.on === true
  const { key, hz, realHz = hz, cents: error, duty } = status ?? {}
  return html`<div class=${isLit ? 'lamp lit' : 'lamp'} style="translate:${spot.left}px ${spot.top}px">
    <svg viewBox="-26 -26 52 52" class="head">
      <path class="sepals" d="M-9-19Q0-13 0-26Q0-13 9-19"></path>
      <circle class="claim" r="24" stroke=${(isClaimed ? owner?.ink : undefined) ?? 'none'}></circle>
      <circle class="glass" r="18.5"></circle>
      <circle class="light" r="18.5" fill-opacity=${isLit ? brightness(duty ?? 0) : 0}></circle>
      <circle class="rim" r="18.5" stroke=${(isLit ? owner?.ink : undefined) ?? 'var(--bar-strong)'}></circle>
    </svg>
    <span class="name">${name}</span>
    <span class="note"
      >${isLit && key !== undefined ? noteName(key) : ''}<svg class="leaf" viewBox="-11 -11 22 22">
        <path d=${owner?.leaf ?? ''} fill=${owner?.ink ?? nothing}></path></svg
      ><b>${owner?.initials ?? ''}</b></span
    >
    <span class="hz">${realHz === undefined ? '' : `${hertz(realHz)} Hz`}</span>
    <span class="fine"
      >${error === undefined ? '' : `${cents(error)} ct`}
      <span>${duty === undefined ? '' : percent(duty)}</span></span
    >
  </div>`
}

/**
 * How bright a lit lamp is drawn, 0 to 1: its duty against half on, the most that lamps here usually have, evened out by a square root, as eyes see it (about
 * the square root of the light: de Vries-Rose), and never so dim that it looks dark.
 */
export function brightness(duty: number): number {
  return Math.round(100 * Math.max(0.2, Math.sqrt(Math.min(1, duty / 0.5)))) / 100
}
