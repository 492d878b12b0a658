import type { CheckFinding } from './finding.ts'
import { GRAVITIES } from './finding.ts'
import { grouped } from './grouped.ts'

const MOST_PLACES = 3
const MOST_FINDINGS = 10

/** The findings of one kind with the same said once for all its places, and no more than ten told apart. */
export function condensed(findings: readonly CheckFinding[]): CheckFinding[] {
  const same = [...grouped(findings, ({ gravity, message }) => `${gravity} ${message}`).values()]
  const merged = same.flatMap((group): CheckFinding[] => {
    const [first] = group
    return first ? [{ ...first, where: placesText(group.map(({ where }) => where)) }] : []
  })
  const ordered = gravestFirst(merged)
  if (ordered.length <= MOST_FINDINGS) return ordered
  const told = ordered.slice(0, MOST_FINDINGS)
  const rest = ordered.slice(MOST_FINDINGS)
  const like = told.at(-1)
  return like && rest[0]
    ? [
        ...told,
        {
          gravity: rest[0].gravity,
          where: placesText(rest.map(({ where }) => where)),
          message: `${rest.length} more findings of this kind, such as: ${rest[0].message} Put right those above, then check again.`,
          path: rest[0].path,
        },
      ]
    : told
}

/** Faults, then warnings, then notes; each in the order they came. */
export function gravestFirst(findings: readonly CheckFinding[]): CheckFinding[] {
  return GRAVITIES.flatMap((gravity) => findings.filter((finding) => finding.gravity === gravity))
}

function placesText(places: readonly string[]): string {
  const different = [...new Set(places)]
  const more = different.length - MOST_PLACES
  return different.slice(0, MOST_PLACES).join('; ') + (more > 0 ? ` and ${more} more` : '')
}
