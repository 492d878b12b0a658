import type { TemplateResult } from 'lit'
import { html } from 'lit'
import type { LampStatus } from '../../../src/contract/from-engine.ts'
import { perMinute } from '../stage/pulse.ts'
import type { Spot } from '../stage/plan-layout.ts'
import type { OwnerMark } from '../style/owner-mark.ts'
import { cents, hertz, roundPercent } from '../wording/figures.ts'
import { noteName } from '../wording/note-name.ts'

export interface LampFigure {
  readonly name: string
  readonly status: LampStatus | undefined
  readonly owner: OwnerMark | undefined
  /** A claim has it, lit or dark: `owner` is whose. */
  readonly isClaimed: boolean
  /** Lit as a pulse: its rate stands where else the note does. */
  readonly isPulse: boolean
  readonly spot: Spot
}

/**
 * One lamp on the plan: a round head on its stem, lit as steadily as its duty says, and its plate below. All boxes are of one size whatever is in them, so that
 * a change repaints this lamp and moves nothing.
 */
export function lampFigure({ name, status, owner, isClaimed, isPulse, spot }: LampFigure): TemplateResult {
  const isLit = status?.on === true
  const { key, hz, realHz = hz, cents: error, duty, glow } = status ?? {}
  const sounding = glow
    ? 'glows'
    : isPulse && hz !== undefined
      ? perMinute(hz)
      : isLit && key !== undefined
        ? noteName(key)
        : ''
  return html`<div class=${isLit ? 'lamp lit' : 'lamp'} style="translate:${spot.left}px ${spot.top}px">
    <svg viewBox="-26 -26 52 52" class="head">
      <path class="sepals" d="M-10-20Q0-14 0-26Q0-14 10-20"></path>
      <circle class="claim" r="25" stroke=${(isClaimed ? owner?.ink : undefined) ?? 'none'}></circle>
      <circle class="glass" r="20"></circle>
      <circle class="light" r="20" fill-opacity=${isLit ? brightness(duty ?? 0) : 0}></circle>
      <circle class="rim" r="20" stroke=${(isLit ? owner?.ink : undefined) ?? 'var(--bar-strong)'}></circle>
    </svg>
    <span class="owner"
      ><svg viewBox="-11 -11 22 22"><path d=${owner?.leaf ?? ''} fill=${owner?.ink ?? 'none'}></path></svg
      ><b>${owner?.initials ?? ''}</b></span
    >
    <span class="name">${name}</span>
    <span class="note">${sounding}</span>
    <span class="hz"
      >${realHz === undefined ? '' : glow ? 'no note' : isPulse ? 'a minute' : `${hertz(realHz)} Hz`}</span
    >
    <span class="fine"
      >${isPulse ? 'pulse' : error === undefined ? '' : `${cents(error)} ct`}
      <span>${duty === undefined ? '' : roundPercent(duty)}</span></span
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
