const MINUS = '\u2212'

/** Hertz without the unit, five figures or two decimals: `27.50`, `440.00`, `4186.0`. */
export function hertz(hz: number): string {
  return hz.toFixed(hz < 1_000 ? 2 : 1)
}

/** Cents with their sign, to a hundredth below ten: `+0.02`, `−12.5`, `0.00`. */
export function cents(value: number): string {
  const size = Math.abs(value)
  const figure = size.toFixed(size < 10 ? 2 : 1)
  if (Number(figure) === 0) return figure
  return `${value < 0 ? MINUS : '+'}${figure}`
}

/** A duty of 0 to 1 in per cent: `5 %`, `37.5 %`; no more decimals than bear on it. */
export function percent(duty: number): string {
  const figure = (duty * 100).toFixed(1)
  return `${figure.endsWith('.0') ? figure.slice(0, -2) : figure} %`
}

/** A duty where there is little room: `38 %`, below one per cent with a decimal. */
export function roundPercent(duty: number): string {
  return percent(duty < 0.00995 ? duty : Math.round(duty * 100) / 100)
}

/** Beats a minute, to the four decimals that a show keeps: `97.0625`, `120`. */
export function tempo(bpm: number): string {
  return bpm.toFixed(4).replace(/\.?0+$/, '')
}

const PLACES = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth', 'ninth', 'tenth']
const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten']

/** Where in a list, from 0: `third of five`; in figures where words would be long: `12th of 20`. */
export function placeOf(index: number, count: number): string {
  const place = PLACES[index] ?? `${index + 1}${ending(index + 1)}`
  return `${place} of ${NUMBERS[count] ?? count}`
}

function ending(n: number): string {
  if (n % 100 >= 11 && n % 100 <= 13) return 'th'
  return ['th', 'st', 'nd', 'rd'][n % 10] ?? 'th'
}

/** How many of something: `one lamp`, `three lamps`, `24 lamps`. */
export function many(count: number, one: string, more = `${one}s`): string {
  return `${NUMBERS[count] ?? count} ${count === 1 ? one : more}`
}

/** How long ago, of microseconds: `now` within one second, `3 s ago`, `2 min ago`. */
export function ago(micros: number): string {
  const seconds = Math.floor(Math.max(0, micros) / 1e6)
  if (seconds < 1) return 'now'
  return seconds < 100 ? `${seconds} s ago` : `${Math.round(seconds / 60)} min ago`
}

/** Minutes as a clock shows them, to the second: `4:30`, `1:02:00`. */
export function playLength(minutes: number): string {
  const seconds = Math.round(minutes * 60)
  const [hours, rest] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60]
  const tail = String(seconds % 60).padStart(2, '0')
  return hours === 0 ? `${rest}:${tail}` : `${hours}:${String(rest).padStart(2, '0')}:${tail}`
}
