/* Four lamps on the four 16-bit timers of the ATmega2560. */
#ifndef LAMPS_H
#define LAMPS_H

#include <stdint.h>

/*
 * | slot | timer | pin         | number on boards  |
 * | 0    | 1     | OC1B  PB6   | D12               |
 * | 1    | 3     | OC3B  PE4   | D2                |
 * | 2    | 4     | OC4B  PH4   | D7                |
 * | 3    | 5     | OC5B  PL4   | D45               |
 */
#define LAMPS 4
#define LAMP_BITS 16
#define LAMP_PRESCALERS 5
extern const uint16_t lamp_prescalers[LAMP_PRESCALERS];

/* What the registers of one lamp get, worked out beforehand, so that putting it into force is quick. */
typedef struct {
    uint8_t clock; /* prescaler 1 .. LAMP_PRESCALERS, the clock select bits; 0 is dark */
    uint16_t top;
    uint16_t compare;
} lamp_drive;

/* Every pin low and its own. */
void lamps_start(void);

/* 0 where the timer can do `rate` (0 is dark, always done), else 1. */
uint8_t lamps_cannot(uint32_t rate);

/* For a rate that the timer can do. The slow part, some 1,000 cycles. */
void lamps_work_out(lamp_drive *drive, uint32_t rate, uint16_t duty);

/* Puts it into force (lamps.c says when that is heard). Call with interrupts off. */
void lamps_apply(uint8_t slot, const lamp_drive *drive);

#endif
