import type { Show } from '../../domain/show.ts'
import { nearMiss } from '../../show/near-miss.ts'
import type { CheckFinding } from './finding.ts'
import { placeAt } from './finding.ts'
import { counted } from './listed.ts'
import type { Survey } from './survey.ts'

/** The clock that is followed: one that comes back to its sender, a name that is not quite another's, and what has no say any more. */
export function clockInFindings({ show }: Survey): CheckFinding[] {
  const { follow } = show.clock
  if (follow === undefined) return []
  const place = placeAt(['clock', 'follow'])
  const said = [...goesBack(show, follow), ...nearlyAnother(show, follow)]
  return [...said.map((one): CheckFinding => ({ ...place, ...one })), ...deafTaps(show, follow)]
}

type Said = Pick<CheckFinding, 'gravity' | 'message'>

function goesBack({ clock, rig, thru, players }: Show, follow: string): Said[] {
  const ways = [
    ...(clock.send.includes(follow) ? ['it is in "clock.send"'] : []),
    ...thru.flatMap(({ player, to, pass }) => {
      const isItsOwn = players.find(({ id }) => id === player)?.input.port === follow
      const goesThere = rig.outputs.some(({ id, port }) => id === to && port === follow)
      return isItsOwn && goesThere && pass.includes('clock') ? [`player ${player} is passed on to it`] : []
    }),
  ]
  return ways.map((way) => ({
    gravity: 'warning',
    message: `the clock of port "${follow}" is followed, and goes back to it: ${way}. A machine that hears its own clock counts double, or follows itself. Take one of the two away.`,
  }))
}

function nearlyAnother({ players, rig }: Show, follow: string): Said[] {
  const serial = rig.outputs.find((output) => output.kind === 'serial' && output.port === follow)
  if (serial) {
    const message = `"${follow}" is the serial port of output ${serial.id}, and a clock comes from MIDI ports only. Name a MIDI input.`
    return [{ gravity: 'warning', message }]
  }
  const known = players.map(({ input }) => input.port)
  if (known.includes(follow)) return []
  const meant = nearMiss(follow, known)
  if (meant === undefined) return []
  const message = `no player is on a port "${follow}", and it is nearly "${meant}": if they are one device, give both the same name, since a port is opened once.`
  return [{ gravity: 'note', message }]
}

/** A control whose tap nothing hears. */
function deafTaps({ switching }: Show, follow: string): CheckFinding[] {
  const taps = switching.controls.flatMap((control, index) => (control.do === 'tap' ? [index] : []))
  const [first] = taps
  if (first === undefined) return []
  const message = `${counted(taps.length, 'control')} ${taps.length === 1 ? 'taps' : 'tap'} a tempo, and the clock of port "${follow}" has it: taps do nothing while it is followed.`
  return [{ gravity: 'note', ...placeAt(['switching', 'controls', first]), message }]
}
