#include "clock.h"
#include <avr/interrupt.h>
#include <avr/io.h>
#include <util/atomic.h>

volatile uint32_t clock_turns;
static uint8_t alarm_set;
static uint32_t alarm_turn;
static uint8_t alarm_step;

void clock_start(void)
{
    TCCR0A = 0;
    TCCR0B = _BV(CS01);
    TIMSK0 = _BV(TOIE0);
}

/* With interrupts off: a turn that has ended may not have been counted yet. */
static uint32_t now_steps(uint8_t *step)
{
    uint32_t turn = clock_turns;
    *step = TCNT0;
    if (TIFR0 & _BV(TOV0)) {
        *step = TCNT0;
        turn++;
    }
    return turn;
}

uint32_t clock_micros(void)
{
    uint32_t turn;
    uint8_t step;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        turn = now_steps(&step);
    }
    return turn << 7 | step >> 1;
}

/* The alarm falls into this turn, or is past: has the comparator ring. */
static void ring_in_turn(uint8_t past)
{
    /* Ahead by more than the lines below take, or the match would be over before it is looked for. */
    uint16_t soonest = (uint16_t)TCNT0 + 6;
    OCR0A = past || alarm_step < soonest ? (uint8_t)soonest : alarm_step;
    TIFR0 = _BV(OCF0A);
    TIMSK0 = _BV(TOIE0) | _BV(OCIE0A);
}

static void aim(uint32_t turn)
{
    int32_t ahead = (int32_t)((alarm_turn - turn) << 7);
    if (ahead <= 0)
        ring_in_turn(ahead < 0);
}

void clock_alarm(uint32_t at)
{
    uint8_t step;
    uint32_t turn = now_steps(&step);
    alarm_turn = (at >> 8) << 1 | (at & 128 ? 1 : 0); /* at >> 7, without a loop of seven */
    alarm_step = (uint8_t)((at & 127) << 1);
    alarm_set = 1;
    TIMSK0 = _BV(TOIE0);
    aim(turn);
    /* Where the turn has ended meanwhile, its comparator would ring a whole turn late. */
    if (now_steps(&step) != turn)
        aim(turn + 1);
}

void clock_alarm_off(void)
{
    alarm_set = 0;
    TIMSK0 = _BV(TOIE0);
}

ISR(TIMER0_OVF_vect)
{
    uint32_t turn = clock_turns + 1;
    clock_turns = turn;
    if (alarm_set)
        aim(turn);
}

ISR(TIMER0_COMPA_vect)
{
    /* Alarm after alarm would keep the lower interrupt above from ever counting. */
    if (TIFR0 & _BV(TOV0)) {
        TIFR0 = _BV(TOV0);
        clock_turns++;
    }
    clock_alarm_off();
    clock_alarm_rings();
}
