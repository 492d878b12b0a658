/* Box microseconds: timer 0 in steps of 0.5 us, wrapping at 2^32. And one alarm. */
#ifndef CLOCK_H
#define CLOCK_H

#include <stdint.h>

void clock_start(void);

uint32_t clock_micros(void);

/* Turns of timer 0, one every 128 us, counted by its interrupt. 2^25 of them are the 2^32 us at which box time wraps. */
extern volatile uint32_t clock_turns;

/*
 * clock_alarm_rings() (box.c) is called with interrupts off at `at`, or within a few microseconds where that is now or past.
 * A new alarm replaces the old. Call with interrupts off.
 */
void clock_alarm(uint32_t at);
void clock_alarm_off(void);
void clock_alarm_rings(void);

#endif
