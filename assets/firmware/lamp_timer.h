/*
 * What a 16-bit timer makes of a rate and a duty; whole numbers only, the very same as the program computes.
 * Portable C99: no library, no hardware, no 64-bit division.
 *
 * Fast PWM: f = clock / (prescaler x (1 + TOP)) (ATmega640/1280/1281/2560/2561 data sheet, 16-bit timers).
 */
#ifndef LAMP_TIMER_H
#define LAMP_TIMER_H

#include <stdint.h>

/*
 * One prescaler, worked out beforehand from the clock. `whole` = clock x 65536 / prescaler, which must come out even (any
 * prescaler that is a power of two up to 65536 does): the ticks a period, times the rate.
 *
 *     period = floor(whole / rate + 1/2)
 *
 * is at most 65536 as long as 2 x whole + rate < 2 x 65537 x rate, that is from `least_rate` up.
 */
typedef struct {
    uint16_t divide;
    uint32_t whole_high; /* whole >> 17 */
    uint32_t whole_low;  /* the other 17 bits, moved up to the top of the word */
    uint32_t least_rate;
} lamp_prescaler;

#define LAMP_WHOLE(clock_hz, divide) ((uint64_t)(clock_hz) * 65536u / (divide))
#define LAMP_PRESCALER(clock_hz, divide)                                                                                     \
    {                                                                                                                        \
        (divide), (uint32_t)(LAMP_WHOLE(clock_hz, divide) >> 17), (uint32_t)((LAMP_WHOLE(clock_hz, divide) & 0x1FFFF) << 15), \
            (uint32_t)(2 * LAMP_WHOLE(clock_hz, divide) / 131073u + 1)                                                       \
    }

/*
 * The first prescaler that is coarse enough for `rate` (Hz x 65536), or `count` where none is. `table` ascends.
 * The check that a set frame must pass; no division.
 */
uint8_t lamp_choose_prescaler(const lamp_prescaler *table, uint8_t count, uint32_t rate);

/*
 * Ticks a period, 1 .. 65536, for a prescaler that lamp_choose_prescaler gave. A pulse needs 2: with a clock under
 * 98 kHz the caller must refuse 1.
 */
uint32_t lamp_period(const lamp_prescaler *prescaler, uint32_t rate);

/* Ticks of `period` (2 .. 65536) that the lamp is on: duty x period / 65535, half up, at least 1, at most the period. */
uint32_t lamp_on_ticks(uint16_t duty, uint32_t period);

#endif
