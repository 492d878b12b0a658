#include "box.h"
#include "clock.h"
#include "lamps.h"
#include "uart.h"
#include <util/atomic.h>

/* Dark by 500 ms: box_watch() comes every 1.024 ms. */
#define SILENCE_MICROS 498900UL

/* Frames from a box have the top bit of their type set. One that comes back (a looped line) must not be answered. */
#define FROM_BOX 0x80

#define PLANS 8

/* A set frame worked out: for each lamp named, its drive. The last mention of a lamp counts. */
typedef struct {
    uint8_t named; /* a bit a slot */
    lamp_drive drives[LAMPS];
} plan;

/* Plans whose time is still to come: times and places in the order they are due, plans where they lie. */
static plan plans[PLANS];
static volatile uint8_t due_count;
static uint32_t due_at[PLANS];
static uint8_t due_place[PLANS];

static uint8_t sequence;
static uint32_t heard_at;
static uint8_t silent = 1;

/* Read by the test harness. */
volatile uint16_t box_unanswered;

/* All of it before anything else that sets lamps; between two lamps the receiver is looked after. */
static void carry_out(const plan *what)
{
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        uint8_t slot, named = what->named;
        for (slot = 0; named; slot++, named >>= 1) {
            if (!(named & 1))
                continue;
            lamps_apply(slot, &what->drives[slot]);
            uart_poll();
        }
    }
}

/* With interrupts off. */
static void aim_at_first(void)
{
    if (due_count)
        clock_alarm(due_at[0]);
    else
        clock_alarm_off();
}

void clock_alarm_rings(void)
{
    uint8_t at;
    carry_out(&plans[due_place[0]]);
    due_count--;
    for (at = 0; at < due_count; at++) {
        due_at[at] = due_at[at + 1];
        due_place[at] = due_place[at + 1];
    }
    aim_at_first();
}

static void forget_plans(void)
{
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        due_count = 0;
        clock_alarm_off();
    }
}

static void all_dark(void)
{
    static const plan DARK = { (1 << LAMPS) - 1, { { 0, 0, 0 } } };
    forget_plans();
    carry_out(&DARK);
}

static uint8_t free_place(void)
{
    uint8_t place, at, taken = 0;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        for (at = 0; at < due_count; at++)
            taken |= 1 << due_place[at];
    }
    for (place = 0; taken & 1 << place; place++)
        ;
    return place;
}

/* Behind those that are due no later. The caller has filled in plans[place]. */
static void queue(uint8_t place, uint32_t time)
{
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        uint8_t at = due_count;
        while (at && (int32_t)(due_at[at - 1] - time) > 0) {
            due_at[at] = due_at[at - 1];
            due_place[at] = due_place[at - 1];
            at--;
        }
        due_at[at] = time;
        due_place[at] = place;
        due_count++;
        aim_at_first();
    }
}

static enum lamp_status check(const lamp_frame *frame)
{
    enum lamp_status status = LAMP_DONE;
    uint8_t place;
    lamp_setting setting;
    for (place = 0; place < frame->is.set.count; place++) {
        lamp_get_setting(frame->is.set.settings, place, &setting);
        if (setting.slot >= LAMPS)
            return LAMP_NO_SUCH_SLOT;
        if (lamps_cannot(setting.rate))
            status = LAMP_REFUSED;
    }
    return status;
}

static void work_out(plan *what, const lamp_frame *frame)
{
    uint8_t place = frame->is.set.count;
    lamp_setting setting;
    what->named = 0;
    while (place--) {
        lamp_get_setting(frame->is.set.settings, place, &setting);
        if (what->named & 1 << setting.slot)
            continue;
        what->named |= 1 << setting.slot;
        lamps_work_out(&what->drives[setting.slot], setting.rate, setting.duty);
    }
}

static enum lamp_status set(const lamp_frame *frame)
{
    static plan now;
    uint32_t at = frame->is.set.at;
    enum lamp_status status = check(frame);
    if (status != LAMP_DONE)
        return status;
    if (at != 0 && (int32_t)(at - clock_micros()) > 0) {
        uint8_t place;
        if (due_count == PLANS)
            return LAMP_REFUSED;
        place = free_place();
        work_out(&plans[place], frame);
        queue(place, at); /* rings at once where its time has come meanwhile */
        return (int32_t)(at - clock_micros()) > 0 ? LAMP_DONE : LAMP_LATE;
    }
    work_out(&now, frame);
    carry_out(&now);
    return at == 0 ? LAMP_DONE : LAMP_LATE;
}

static void send(lamp_frame *frame)
{
    uint8_t wire[LAMP_BOX_WIRE_BYTES];
    uint16_t length;
    frame->sequence = sequence;
    /* The longest, an identity, is 24 bytes; a reply 12 at most. A host that keeps to two frames never fills the ring. */
    if (uart_room() < 32) {
        box_unanswered++;
        return;
    }
    length = lamp_encode(frame, wire);
    uart_send(wire, (uint8_t)length);
    sequence++;
}

static void identify(void)
{
    uint8_t prescalers[2 * LAMP_PRESCALERS];
    uint8_t at;
    lamp_frame frame;
    for (at = 0; at < LAMP_PRESCALERS; at++) {
        prescalers[2 * at] = (uint8_t)lamp_prescalers[at];
        prescalers[2 * at + 1] = (uint8_t)(lamp_prescalers[at] >> 8);
    }
    frame.type = LAMP_IDENTITY;
    frame.is.identity.version = LAMP_PROTOCOL_VERSION;
    frame.is.identity.lamps = LAMPS;
    frame.is.identity.clock_hz = F_CPU;
    frame.is.identity.bits = LAMP_BITS;
    frame.is.identity.count = LAMP_PRESCALERS;
    frame.is.identity.prescalers = prescalers;
    send(&frame);
}

static void reply(uint8_t answers, enum lamp_status status)
{
    lamp_frame frame;
    frame.type = LAMP_REPLY;
    frame.is.reply.answers = answers;
    frame.is.reply.status = status;
    frame.is.reply.micros = clock_micros();
    send(&frame);
}

void box_frame(const uint8_t *payload, uint16_t length)
{
    lamp_frame frame;
    enum lamp_status status = LAMP_DONE;
    if (length < 2 || payload[0] & FROM_BOX)
        return;
    heard_at = clock_micros();
    silent = 0;
    if (!lamp_decode(payload, length, &frame)) {
        reply(payload[1], LAMP_REFUSED);
        return;
    }
    switch (frame.type) {
    case LAMP_HELLO:
        forget_plans(); /* those of a host that may be gone */
        identify();
        return;
    case LAMP_SET:
        status = set(&frame);
        break;
    case LAMP_DARK:
        all_dark();
        break;
    }
    reply(frame.sequence, status);
}

void box_watch(void)
{
    if (silent || clock_micros() - heard_at < SILENCE_MICROS)
        return;
    silent = 1;
    all_dark();
}
