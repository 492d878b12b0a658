#include "timer16.h"
#include "registers.h"
#include <simavr/sim_cycle_timers.h>
#include <stdio.h>
#include <stdlib.h>

enum { TCCRA = 0, TCCRB, TCCRC, TCNTL = 4, TCNTH, OCRAL = 8, OCRAH, OCRBL, OCRBH, REGISTERS = 14 };

#define MODE_NORMAL 0
#define MODE_PWM 15
#define TOV 1
#define TOIE 1

typedef struct {
    avr_t *avr;
    int slot;
    uint16_t base, flags, mask, port;
    uint8_t pin, vector;
    /* the lamp's pin */
    int level, output;
    avr_io_write_t port_write, direction_write;
    void *port_param;
    /* the timer */
    uint8_t temp, a, b;
    uint16_t ocra, ocrb, buffer_a, buffer_b;
    uint16_t count;   /* at tick `at` of the prescaler */
    uint64_t at;      /* prescaler ticks since reset, of the running prescaler */
    int divide;       /* 0 stopped */
    int blocked;      /* TCNT was written: no match in the next tick */
} timer;

static timer timers[4] = {
    { .slot = 0, .base = 0x80, .flags = 0x36, .mask = 0x6F, .port = 0x25, .pin = 6, .vector = 20 },
    { .slot = 1, .base = 0x90, .flags = 0x38, .mask = 0x71, .port = 0x2E, .pin = 4, .vector = 35 },
    { .slot = 2, .base = 0xA0, .flags = 0x39, .mask = 0x72, .port = 0x102, .pin = 4, .vector = 45 },
    { .slot = 3, .base = 0x120, .flags = 0x3A, .mask = 0x73, .port = 0x10B, .pin = 4, .vector = 50 },
};
static pin_changed tell;

static void fault(timer *t, const char *what)
{
    fprintf(stderr, "lamp-box-sim: timer of slot %d at cycle %llu: %s\n", t->slot, (unsigned long long)t->avr->cycle, what);
    exit(3);
}

static int mode(const timer *t)
{
    return (t->a & 3) | (t->b >> 1 & 0xC);
}

static int action(const timer *t)
{
    return t->a >> 4 & 3;
}

static void show(timer *t, uint64_t cycle)
{
    uint8_t port = t->avr->data[t->port] >> t->pin & 1;
    uint8_t direction = t->avr->data[t->port - 1] >> t->pin & 1;
    int driven = action(t) >= 2 ? t->output : port;
    int level = direction ? driven : 0; /* a floating pin: the pull-down that the wiring asks for */
    if (level == t->level)
        return;
    t->level = level;
    tell(t->slot, level, cycle);
}

/* Count up to now; events are never passed, because each has a cycle timer. */
static void catch_up(timer *t, uint64_t cycle)
{
    uint64_t ticks;
    if (!t->divide)
        return;
    ticks = cycle / t->divide - t->at;
    if (ticks) {
        t->blocked = 0;
        t->count += ticks;
        t->at += ticks;
    }
}

static avr_cycle_count_t event(avr_t *avr, avr_cycle_count_t when, void *param);

/* The next tick that does something: one after a match of OCRB, one after TOP, or the roll-over. */
static uint32_t ticks_to_event(const timer *t)
{
    uint32_t wrap = t->count <= t->ocra ? (uint32_t)t->ocra - t->count + 1 : 0x10000u - t->count;
    uint32_t match = t->count <= t->ocrb && !(t->blocked && t->count == t->ocrb) ? (uint32_t)t->ocrb - t->count + 1 : wrap;
    return match < wrap ? match : wrap;
}

static void schedule(timer *t)
{
    avr_cycle_timer_cancel(t->avr, event, t);
    if (!t->divide)
        return;
    uint64_t when = (t->at + ticks_to_event(t)) * t->divide;
    avr_cycle_timer_register(t->avr, when - t->avr->cycle, event, t);
}

static avr_cycle_count_t event(avr_t *avr, avr_cycle_count_t when, void *param)
{
    timer *t = param;
    uint64_t before = t->at;
    uint16_t count = t->count;
    int blocked = t->blocked;
    uint32_t ticks = when / t->divide - before;
    catch_up(t, when);
    if ((uint16_t)(count + ticks - 1) == t->ocra) {
        t->count = 0;
        t->ocra = t->buffer_a;
        t->ocrb = t->buffer_b;
        t->output = action(t) == 2 ? 1 : action(t) == 3 ? 0 : t->output;
        avr_raise_interrupt(avr, vector_of(avr, t->vector));
    } else if (t->count == 0) {
        t->output = action(t) == 2 ? 1 : action(t) == 3 ? 0 : t->output;
    } else if ((uint16_t)(count + ticks - 1) == t->ocrb && !(blocked && ticks == 1)) {
        t->output = action(t) == 2 ? 0 : action(t) == 3 ? 1 : t->output;
    }
    show(t, when);
    return (t->at + ticks_to_event(t)) * t->divide;
}

static void control(timer *t)
{
    static const int DIVIDES[8] = { 0, 1, 8, 64, 256, 1024, -1, -1 };
    int divide = DIVIDES[t->b & 7];
    uint64_t cycle = t->avr->cycle;
    catch_up(t, cycle);
    if (divide < 0)
        fault(t, "external clock is not modelled");
    if (divide && mode(t) != MODE_PWM)
        fault(t, "runs in a mode other than fast PWM 15");
    if (divide != t->divide) {
        t->divide = divide;
        t->at = divide ? cycle / divide : 0;
        if (divide && t->blocked && t->count == t->ocra)
            fault(t, "starts with TCNT at TOP just written: the data sheet leaves open what happens");
    }
    show(t, cycle);
    schedule(t);
}

static void write_a(avr_t *avr, avr_io_addr_t address, uint8_t value, void *param)
{
    timer *t = param;
    avr->data[address] = t->a = value;
    if (t->divide)
        control(t);
    else
        show(t, avr->cycle);
}

static void write_b(avr_t *avr, avr_io_addr_t address, uint8_t value, void *param)
{
    timer *t = param;
    avr->data[address] = t->b = value;
    control(t);
}

static void write_c(avr_t *avr, avr_io_addr_t address, uint8_t value, void *param)
{
    timer *t = param;
    (void)address;
    /* FOCnB: a strobe, in modes without PWM only, and always read as 0. */
    if (value & 0x40 && mode(t) == MODE_NORMAL) {
        t->output = action(t) == 1 ? !t->output : action(t) == 2 ? 0 : action(t) == 3 ? 1 : t->output;
        show(t, avr->cycle);
    }
}

static void write_temp(avr_t *avr, avr_io_addr_t address, uint8_t value, void *param)
{
    (void)avr, (void)address;
    ((timer *)param)->temp = value;
}

static void write_low(avr_t *avr, avr_io_addr_t address, uint8_t value, void *param)
{
    timer *t = param;
    uint16_t word = (uint16_t)(t->temp << 8 | value);
    catch_up(t, avr->cycle);
    switch (address - t->base) {
    case TCNTL:
        t->count = word;
        t->blocked = 1;
        break;
    case OCRAL:
        t->buffer_a = word;
        if (mode(t) != MODE_PWM)
            t->ocra = word;
        break;
    case OCRBL:
        t->buffer_b = word;
        if (mode(t) != MODE_PWM)
            t->ocrb = word;
        break;
    }
    schedule(t);
}

static uint8_t read_count_low(avr_t *avr, avr_io_addr_t address, void *param)
{
    timer *t = param;
    (void)address;
    catch_up(t, avr->cycle);
    t->temp = t->count >> 8;
    return (uint8_t)t->count;
}

static uint8_t read_temp(avr_t *avr, avr_io_addr_t address, void *param)
{
    (void)avr, (void)address;
    return ((timer *)param)->temp;
}

/* A flag is cleared by writing one to it. */
static void write_flags(avr_t *avr, avr_io_addr_t address, uint8_t value, void *param)
{
    timer *t = param;
    if (value & TOV) {
        avr_clear_interrupt(avr, vector_of(avr, t->vector));
        avr->data[address] &= ~TOV;
    }
}

static void write_mask(avr_t *avr, avr_io_addr_t address, uint8_t value, void *param)
{
    timer *t = param;
    avr->data[address] = value;
    if (value & TOIE && avr->data[t->flags] & TOV)
        avr_raise_interrupt(avr, vector_of(avr, t->vector));
}

static void write_port(avr_t *avr, avr_io_addr_t address, uint8_t value, void *param)
{
    timer *t = param;
    t->port_write(avr, address, value, t->port_param);
    show(t, avr->cycle);
}

static void write_direction(avr_t *avr, avr_io_addr_t address, uint8_t value, void *param)
{
    timer *t = param;
    t->direction_write(avr, address, value, t->port_param);
    show(t, avr->cycle);
}

void timers_attach(avr_t *avr, pin_changed changed)
{
    tell = changed;
    for (int slot = 0; slot < 4; slot++) {
        timer *t = &timers[slot];
        t->avr = avr;
        t->port_write = avr->io[AVR_DATA_TO_IO(t->port)].w.c;
        t->direction_write = avr->io[AVR_DATA_TO_IO(t->port - 1)].w.c;
        t->port_param = avr->io[AVR_DATA_TO_IO(t->port)].w.param;
        on_write(avr, t->base + TCCRA, write_a, t);
        on_write(avr, t->base + TCCRB, write_b, t);
        on_write(avr, t->base + TCCRC, write_c, t);
        on_write(avr, t->base + TCNTH, write_temp, t);
        on_write(avr, t->base + OCRAH, write_temp, t);
        on_write(avr, t->base + OCRBH, write_temp, t);
        on_write(avr, t->base + TCNTL, write_low, t);
        on_write(avr, t->base + OCRAL, write_low, t);
        on_write(avr, t->base + OCRBL, write_low, t);
        on_read(avr, t->base + TCNTL, read_count_low, t);
        on_read(avr, t->base + TCNTH, read_temp, t);
        on_write(avr, t->flags, write_flags, t);
        on_write(avr, t->mask, write_mask, t);
        on_write(avr, t->port, write_port, t);
        on_write(avr, t->port - 1, write_direction, t);
    }
}

void timers_reset(void)
{
    for (int slot = 0; slot < 4; slot++) {
        timer *t = &timers[slot];
        avr_cycle_timer_cancel(t->avr, event, t);
        t->temp = t->a = t->b = 0;
        t->ocra = t->ocrb = t->buffer_a = t->buffer_b = t->count = 0;
        t->divide = t->blocked = t->output = 0;
        show(t, t->avr->cycle);
    }
}
