import type { Hz } from '../../domain/units.ts'

const UBRR_MAX = 4095

/**
 * The rate nearest to `baud` that the UART of an AVR at `clockHz` can make: clock / (8 x (UBRR + 1)) in double speed mode, clock /
 * (16 x (UBRR + 1)) in normal mode, UBRR 0 to 4095 (ATmega640/1280/2560 data sheet, USART).
 */
export function nearestAvrBaud(baud: number, clockHz: Hz): number {
  const [double, normal] = [8, 16].map((divisor) => {
    const ubrr = Math.min(UBRR_MAX, Math.max(0, Math.round(clockHz / (divisor * baud)) - 1))
    return clockHz / (divisor * (ubrr + 1))
  }) as [number, number]
  return Math.abs(double - baud) <= Math.abs(normal - baud) ? double : normal
}
