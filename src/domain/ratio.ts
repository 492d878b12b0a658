/** Flashes to beats, each 1 to 999: "3:2". */
export const RATIO_TEXT = /^([1-9]\d{0,2}):([1-9]\d{0,2})$/

/** "3:2" as [3, 2]; undefined where it is none. */
export function parseRatio(text: string): readonly [number, number] | undefined {
  const found = RATIO_TEXT.exec(text)
  return found ? [Number(found[1]), Number(found[2])] : undefined
}
