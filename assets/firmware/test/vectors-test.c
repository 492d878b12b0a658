/* Runs the portable codec over the lines of vectors-lines.mjs (standard input). Exit 1 and a line for each that is wrong. */
#include "lamp_frame.h"
#include "lamp_timer.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MOST 4096

static const lamp_prescaler PRESCALERS[] = { LAMP_PRESCALER(16000000, 1), LAMP_PRESCALER(16000000, 8),
                                             LAMP_PRESCALER(16000000, 64), LAMP_PRESCALER(16000000, 256),
                                             LAMP_PRESCALER(16000000, 1024) };

static char *rest;

static char *word(void)
{
    char *found = strtok(rest, " \n");
    rest = NULL;
    if (!found) {
        fprintf(stderr, "a line ends too early\n");
        exit(2);
    }
    return found;
}

static uint32_t number(void)
{
    return (uint32_t)strtoul(word(), NULL, 10);
}

static uint16_t bytes(uint8_t *to)
{
    const char *from = word();
    uint16_t count = 0;
    unsigned value;
    if (strcmp(from, "-") == 0)
        return 0;
    for (; sscanf(from, "%2x", &value) == 1; from += 2)
        to[count++] = (uint8_t)value;
    return count;
}

static int same(const uint8_t *left, uint16_t left_length, const uint8_t *right, uint16_t right_length)
{
    return left_length == right_length && memcmp(left, right, left_length) == 0;
}

/* Gives a block and its 00 to a reader; the last answer, with a payload in the reader where it is a frame. */
static enum lamp_read read_block(lamp_reader *reader, const uint8_t *block, uint16_t length)
{
    uint16_t at;
    for (at = 0; at < length; at++)
        if (lamp_reader_byte(reader, block[at]) != LAMP_READ_MORE)
            exit(3);
    return lamp_reader_byte(reader, 0);
}

static int cobs_line(void)
{
    static uint8_t data[MOST], block[MOST], mine[MOST];
    static lamp_reader reader;
    uint16_t data_length = bytes(data), block_length = bytes(block), at;
    lamp_reader_start(&reader);
    for (at = 0; at < block_length; at++)
        lamp_reader_byte(&reader, block[at]);
    return same(mine, lamp_stuff(data, data_length, mine), block, block_length) &&
           same(reader.data, reader.length, data, data_length);
}

static int crc_line(void)
{
    static uint8_t data[MOST];
    uint16_t length = bytes(data);
    return lamp_crc(data, length) == number();
}

/* The frame that the numbers tell of, built in `frame` with its lists in `list`. */
static void told(lamp_frame *frame, uint8_t *list)
{
    uint8_t place;
    frame->type = (uint8_t)number();
    frame->sequence = (uint8_t)number();
    switch (frame->type) {
    case LAMP_HELLO:
        frame->is.hello.version = (uint8_t)number();
        break;
    case LAMP_SET:
        frame->is.set.at = number();
        frame->is.set.count = (uint8_t)number();
        frame->is.set.settings = list;
        for (place = 0; place < frame->is.set.count; place++) {
            lamp_setting setting;
            setting.slot = (uint8_t)number();
            setting.rate = number();
            setting.duty = (uint16_t)number();
            lamp_put_setting(list, place, &setting);
        }
        break;
    case LAMP_BEAT:
        frame->is.beat.micros = number();
        break;
    case LAMP_IDENTITY:
        frame->is.identity.version = (uint8_t)number();
        frame->is.identity.lamps = (uint8_t)number();
        frame->is.identity.clock_hz = number();
        frame->is.identity.bits = (uint8_t)number();
        frame->is.identity.count = (uint8_t)number();
        frame->is.identity.prescalers = list;
        for (place = 0; place < frame->is.identity.count; place++) {
            uint32_t prescaler = number();
            list[2 * place] = (uint8_t)prescaler;
            list[2 * place + 1] = (uint8_t)(prescaler >> 8);
        }
        break;
    case LAMP_REPLY:
        frame->is.reply.answers = (uint8_t)number();
        frame->is.reply.status = (uint8_t)number();
        frame->is.reply.micros = number();
        break;
    }
}

static int equal(const lamp_frame *left, const lamp_frame *right)
{
    if (left->type != right->type || left->sequence != right->sequence)
        return 0;
    switch (left->type) {
    case LAMP_HELLO:
        return left->is.hello.version == right->is.hello.version;
    case LAMP_SET: {
        uint8_t place;
        if (left->is.set.at != right->is.set.at || left->is.set.count != right->is.set.count)
            return 0;
        for (place = 0; place < left->is.set.count; place++) {
            lamp_setting one, other;
            lamp_get_setting(left->is.set.settings, place, &one);
            lamp_get_setting(right->is.set.settings, place, &other);
            if (one.slot != other.slot || one.rate != other.rate || one.duty != other.duty)
                return 0;
        }
        return 1;
    }
    case LAMP_DARK:
        return 1;
    case LAMP_BEAT:
        return left->is.beat.micros == right->is.beat.micros;
    case LAMP_IDENTITY:
        return left->is.identity.version == right->is.identity.version &&
               left->is.identity.lamps == right->is.identity.lamps &&
               left->is.identity.clock_hz == right->is.identity.clock_hz &&
               left->is.identity.bits == right->is.identity.bits && left->is.identity.count == right->is.identity.count &&
               memcmp(left->is.identity.prescalers, right->is.identity.prescalers, 2u * left->is.identity.count) == 0;
    case LAMP_REPLY:
        return left->is.reply.answers == right->is.reply.answers && left->is.reply.status == right->is.reply.status &&
               left->is.reply.micros == right->is.reply.micros;
    }
    return 0;
}

static int frame_line(void)
{
    static uint8_t payload[MOST], wire[MOST], mine[MOST], list[MOST];
    static lamp_reader reader;
    lamp_frame want, got;
    uint16_t payload_length = bytes(payload), wire_length = bytes(wire);
    told(&want, list);
    lamp_reader_start(&reader);
    return read_block(&reader, wire, wire_length - 1) == LAMP_READ_FRAME &&
           same(reader.data, reader.length, payload, payload_length) &&
           lamp_decode(reader.data, reader.length, &got) && equal(&got, &want) &&
           same(mine, lamp_encode(&want, mine), wire, wire_length);
}

/* The damaged block between two good frames, both of which must come through. */
static int damaged_line(void)
{
    static const uint8_t DARK[] = { 0x05, 0x03, 0x01, 0x7D, 0x58 };
    static uint8_t block[MOST];
    static lamp_reader reader;
    lamp_frame frame;
    const char *damage = word();
    uint16_t length = bytes(block);
    enum lamp_read read;
    int right;
    lamp_reader_start(&reader);
    if (read_block(&reader, DARK, sizeof DARK) != LAMP_READ_FRAME)
        return 0;
    read = read_block(&reader, block, length);
    if (strcmp(damage, "cobs") == 0)
        right = read == LAMP_READ_BAD_COBS;
    else if (strcmp(damage, "crc") == 0)
        right = read == LAMP_READ_BAD_CRC;
    else
        right = strcmp(damage, "payload") == 0 && read == LAMP_READ_FRAME &&
                !lamp_decode(reader.data, reader.length, &frame);
    return right && read_block(&reader, DARK, sizeof DARK) == LAMP_READ_FRAME;
}

static int timer_line(void)
{
    uint32_t rate = number(), divide = number(), top = number();
    uint8_t at = lamp_choose_prescaler(PRESCALERS, 5, rate);
    if (divide == 0)
        return at == 5;
    return at < 5 && PRESCALERS[at].divide == divide && lamp_period(&PRESCALERS[at], rate) == top + 1;
}

static int duty_line(void)
{
    uint32_t duty = number(), top = number(), ticks = number();
    return lamp_on_ticks((uint16_t)duty, top + 1) == ticks;
}

int main(void)
{
    static char line[4 * MOST], whole[4 * MOST];
    static const struct {
        const char *name;
        int (*check)(void);
    } CHECKS[] = { { "cobs", cobs_line },       { "crc", crc_line },     { "frame", frame_line },
                   { "damaged", damaged_line }, { "timer", timer_line }, { "duty", duty_line } };
    const unsigned kinds = sizeof CHECKS / sizeof *CHECKS;
    unsigned kind, right = 0, wrong = 0;
    while (fgets(line, sizeof line, stdin)) {
        const char *name;
        strcpy(whole, line);
        rest = line;
        name = word();
        for (kind = 0; kind < kinds && strcmp(CHECKS[kind].name, name) != 0; kind++)
            ;
        if (kind < kinds && CHECKS[kind].check()) {
            right++;
        } else {
            wrong++;
            printf("wrong: %s", whole);
        }
    }
    printf("%u right, %u wrong\n", right, wrong);
    return wrong != 0 || right == 0;
}
