/** A show as the file has it, before it is known to be valid. */
export type RawShow = Readonly<Record<string, unknown>>

/** One step from a version of the show file to the next. */
export interface Migration {
  /** The version it takes; it gives `from + 1`. */
  readonly from: number
  /** What a musician should know of it: "claims moved from songs to parts". */
  readonly note: string
  /** The show in the next version, `version` left as it is. Never changes what it is given; may throw on a broken show. */
  apply(show: RawShow): RawShow
}

/** The version that this Lanthorn writes. */
export const SHOW_VERSION = 1

/** Every migration there is, in any order. */
export const MIGRATIONS: readonly Migration[] = []

export type Migrated =
  | { readonly ok: true; readonly show: RawShow; readonly notes: readonly string[] }
  /** The version that nothing leads on from, or whose migration failed. */
  | { readonly ok: false; readonly stuckAt: number; readonly why?: string }

/** Brings a show of an older version to the present one, a version at a time. */
export function migrate(show: RawShow, version: number, migrations: readonly Migration[]): Migrated {
  let now = show
  const notes: string[] = []
  for (let at = version; at < SHOW_VERSION; at++) {
    const step = migrations.find(({ from }) => from === at)
    if (step === undefined) return { ok: false, stuckAt: at }
    try {
      now = { ...step.apply(now), version: at + 1 }
    } catch (error) {
      return { ok: false, stuckAt: at, why: error instanceof Error ? error.message : String(error) }
    }
    notes.push(`brought from version ${at} to ${at + 1}: ${step.note}`)
  }
  return { ok: true, show: now, notes }
}
