/*
 * The 16-bit timers 1, 3, 4 and 5 of the ATmega2560 as far as a lamp needs them, cycle by cycle, from the data sheet
 * (ATmega640/1280/1281/2560/2561, "16-bit Timer/Counter"): normal mode while stopped, and fast PWM mode 15 with OCnB on a pin.
 *
 * Why not simavr's own: version 1.6 has no double buffering, no TEMP byte, no forced match, a free-running prescaler for each
 * timer that starts with it, leaves the pin as it was when the timer lets go of it, and makes "always on" always off.
 * In a steady state both agree (a test compares them).
 */
#ifndef TIMER16_H
#define TIMER16_H

#include <simavr/sim_avr.h>

/* Called at every change of a lamp's pin, with the exact cycle. */
typedef void (*pin_changed)(int slot, int level, uint64_t cycle);

void timers_attach(avr_t *avr, pin_changed changed);

/* After a reset of the chip. */
void timers_reset(void);

#endif
