/** Year-month-day (ISO 8601) as the clock on this machine's wall has it, not as it is at Greenwich: `2026-11-25`. */
export function localDay(now: Date): string {
  const two = (value: number): string => String(value).padStart(2, '0')
  return `${String(now.getFullYear()).padStart(4, '0')}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
}
