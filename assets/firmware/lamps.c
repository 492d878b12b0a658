/*
 * Fast PWM, mode 15: TCNTn counts 0 .. OCRnA and starts again; the pin OCnB goes high as the count becomes 0 (BOTTOM) and low
 * one tick after it has been OCRnB. So a period has OCRnA + 1 ticks, OCRnB + 1 of them on; OCRnB = OCRnA is always on. Both
 * registers are double-buffered: what is written comes into force at BOTTOM. (ATmega640/1280/1281/2560/2561 data sheet,
 * 16-bit timers. ICRn as TOP is not buffered, and a compare value of 0 still gives a pulse of one tick.)
 *
 * When a change is heard:
 *  - dark: at once. The pin is taken off the timer and is low.
 *  - from dark: at once, beginning with the on part. (One tick on, OCRnB = 0: after one period.)
 *  - the same prescaler: at the end of the running period, rate and duty together.
 *  - another prescaler: at the end of the running period too. At that moment an interrupt moves the timer over; what time
 *    that takes counts as part of the new on part. The prescaler is one free-running counter for all timers and is left
 *    alone, for the other lamps' sake: the first on part can be off by up to one new tick.
 *  - out of a rate under 30.5 Hz (prescaler 64 and more): at once, the running flash cut short; no wait is over 33 ms.
 */
#include "lamps.h"
#include "lamp_timer.h"
#include <avr/interrupt.h>
#include <avr/io.h>

const uint16_t lamp_prescalers[LAMP_PRESCALERS] = { 1, 8, 64, 256, 1024 };
static const lamp_prescaler PRESCALERS[LAMP_PRESCALERS] = { LAMP_PRESCALER(F_CPU, 1), LAMP_PRESCALER(F_CPU, 8),
                                                            LAMP_PRESCALER(F_CPU, 64), LAMP_PRESCALER(F_CPU, 256),
                                                            LAMP_PRESCALER(F_CPU, 1024) };
static const uint8_t SHIFTS[LAMP_PRESCALERS + 1] = { 0, 0, 3, 6, 8, 10 };

/* The shortest period, at the highest rate a frame can hold (65,536 Hz), is 244 ticks: pulses of two ticks always fit. */
#if F_CPU != 16000000UL
#error "The identity, the baud rate and the times in clock.c are for 16 MHz: see PROTOCOL.md, porting"
#endif

/* The registers of timers 1, 3, 4 and 5 lie alike. */
typedef struct {
    volatile uint8_t tccra, tccrb, tccrc, reserved;
    volatile uint16_t tcnt, icr, ocra, ocrb, ocrc;
} timer16;

typedef struct {
    timer16 *timer;
    volatile uint8_t *flags, *mask, *port, *direction;
    uint8_t pin;
} lamp_wiring;

static const lamp_wiring WIRING[LAMPS] = {
    { (timer16 *)&TCCR1A, &TIFR1, &TIMSK1, &PORTB, &DDRB, _BV(PB6) },
    { (timer16 *)&TCCR3A, &TIFR3, &TIMSK3, &PORTE, &DDRE, _BV(PE4) },
    { (timer16 *)&TCCR4A, &TIFR4, &TIMSK4, &PORTH, &DDRH, _BV(PH4) },
    { (timer16 *)&TCCR5A, &TIFR5, &TIMSK5, &PORTL, &DDRL, _BV(PL4) },
};

/* Timer 1's bits; 3, 4 and 5 have them in the same places. */
#define PIN_SETS_ON_MATCH (_BV(COM1B1) | _BV(COM1B0))
#define PIN_CLEARS_ON_MATCH _BV(COM1B1)
#define PWM_LOW_BITS (_BV(WGM11) | _BV(WGM10))
#define PWM_HIGH_BITS (_BV(WGM13) | _BV(WGM12))

/* Slowest prescaler (clock select) whose running period a change waits for. */
#define WAITED_FOR 2

/* Cycles until restart() starts the count: from the pin's rise, and from move_over()'s look at the count. By the simulator. */
#define START_CYCLES 35
#define MOVE_CYCLES 130

typedef struct {
    uint8_t clock;  /* as in lamp_drive, of what runs now */
    uint8_t moving; /* `next` takes over at the end of the running period */
    uint16_t top;   /* in force */
    uint16_t newest_top;
    lamp_drive next;
} lamp_state;

static lamp_state lamps[LAMPS];

void lamps_start(void)
{
    uint8_t slot;
    for (slot = 0; slot < LAMPS; slot++) {
        const lamp_wiring *wiring = &WIRING[slot];
        *wiring->port &= (uint8_t)~wiring->pin;
        *wiring->direction |= wiring->pin;
    }
}

uint8_t lamps_cannot(uint32_t rate)
{
    return rate != 0 && lamp_choose_prescaler(PRESCALERS, LAMP_PRESCALERS, rate) == LAMP_PRESCALERS;
}

void lamps_work_out(lamp_drive *drive, uint32_t rate, uint16_t duty)
{
    uint8_t at;
    uint32_t period;
    drive->clock = 0;
    if (rate == 0)
        return;
    at = lamp_choose_prescaler(PRESCALERS, LAMP_PRESCALERS, rate);
    period = lamp_period(&PRESCALERS[at], rate);
    drive->clock = at + 1;
    drive->top = (uint16_t)(period - 1);
    drive->compare = (uint16_t)(lamp_on_ticks(duty, period) - 1);
}

static void stop(const lamp_wiring *wiring, lamp_state *lamp)
{
    wiring->timer->tccra = PWM_LOW_BITS; /* off the pin first */
    wiring->timer->tccrb = 0;
    *wiring->mask = 0;
    *wiring->port &= (uint8_t)~wiring->pin;
    lamp->clock = 0;
    lamp->moving = 0;
}

/*
 * Begins a period that is `cycles` old, its pin high. In normal mode, with the clock off, compare registers are not buffered
 * and a match can be forced, which presets the output. Writing TCNTn blocks a match in the tick that follows, so the count
 * must not stand at OCRnB; where it cannot stand below, the pulse of one tick counts as over.
 */
static void restart(const lamp_wiring *wiring, lamp_state *lamp, const lamp_drive *drive, uint32_t cycles)
{
    timer16 *timer = wiring->timer;
    uint16_t count = (uint16_t)(cycles >> SHIFTS[drive->clock]);
    uint16_t compare = drive->compare;
    timer->tccrb = 0;
    timer->tccra = compare ? PIN_SETS_ON_MATCH : PIN_CLEARS_ON_MATCH;
    timer->tccrc = _BV(FOC1B);
    timer->ocra = drive->top;
    timer->ocrb = compare;
    if (compare && count >= compare)
        count = compare - 1;
    timer->tcnt = count;
    timer->tccra = PIN_CLEARS_ON_MATCH | PWM_LOW_BITS;
    timer->tccrb = PWM_HIGH_BITS | drive->clock;
    *wiring->mask = 0;
    *wiring->flags = _BV(TOV1);
    lamp->clock = drive->clock;
    lamp->top = lamp->newest_top = drive->top;
    lamp->moving = 0;
}

/*
 * OCRnA and OCRnB must come into force at the same BOTTOM: where the period is about to end, waits (at most 5 us) until it
 * has. `top` is what the count runs up to now; a write since the last BOTTOM is not in force yet.
 */
static void clear_of_bottom(const lamp_wiring *wiring, lamp_state *lamp)
{
    uint8_t fast = lamp->clock == 1;
    uint16_t count;
    if (*wiring->flags & _BV(TOV1))
        lamp->top = lamp->newest_top;
    *wiring->flags = _BV(TOV1);
    count = wiring->timer->tcnt;
    if (count <= (fast ? 20 : 3)) /* BOTTOM may have come between the two lines above */
        lamp->top = lamp->newest_top;
    if (lamp->top - count > (fast ? 80 : 10))
        return;
    while (!(*wiring->flags & _BV(TOV1)))
        ;
    *wiring->flags = _BV(TOV1);
    lamp->top = lamp->newest_top;
}

void lamps_apply(uint8_t slot, const lamp_drive *drive)
{
    const lamp_wiring *wiring = &WIRING[slot];
    lamp_state *lamp = &lamps[slot];
    if (drive->clock == 0) {
        stop(wiring, lamp);
    } else if (lamp->clock == 0 || lamp->clock > WAITED_FOR) {
        restart(wiring, lamp, drive, START_CYCLES);
    } else if (lamp->moving) {
        lamp->next = *drive;
    } else {
        timer16 *timer = wiring->timer;
        clear_of_bottom(wiring, lamp);
        if (drive->clock == lamp->clock) {
            lamp->newest_top = drive->top;
            timer->ocra = drive->top;
            timer->ocrb = drive->compare;
        } else {
            /* From BOTTOM on high for 4 ms or more, however late the interrupt that moves over. */
            timer->ocra = 0xFFFF;
            timer->ocrb = 0xFFFF;
            lamp->next = *drive;
            lamp->moving = 1;
            *wiring->mask = _BV(TOIE1);
        }
    }
}

static void move_over(uint8_t slot)
{
    lamp_state *lamp = &lamps[slot];
    uint32_t cycles = (uint32_t)WIRING[slot].timer->tcnt << SHIFTS[lamp->clock];
    restart(&WIRING[slot], lamp, &lamp->next, cycles + MOVE_CYCLES);
}

ISR(TIMER1_OVF_vect)
{
    move_over(0);
}

ISR(TIMER3_OVF_vect)
{
    move_over(1);
}

ISR(TIMER4_OVF_vect)
{
    move_over(2);
}

ISR(TIMER5_OVF_vect)
{
    move_over(3);
}
