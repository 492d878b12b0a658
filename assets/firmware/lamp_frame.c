#include "lamp_frame.h"

/* Longest run of COBS (Cheshire and Baker, IEEE/ACM Transactions on Networking 7(2), 1999): code FFh, 254 bytes, no zero. */
#define FULL_RUN 0xFF

enum { FINE = 0, SPOILED, TOO_LONG };

/* Within the work of each byte a call costs as much as what is called: inlined even where size comes first. */
#ifdef __GNUC__
#define FAST static inline __attribute__((always_inline))
#else
#define FAST static
#endif

/* ---- CRC ---- */

/*
 * Eight steps of the polynomial x^16 + x^12 + x^5 + 1 at once: what leaves at the top comes back at bits 12, 5 and 0, and
 * the part of it that bit 12 sends out again within the same byte is folded in first. No table, and no shift of a word.
 */
FAST uint16_t crc_byte(uint16_t crc, uint8_t byte)
{
    uint8_t out = (uint8_t)(crc >> 8) ^ byte;
    uint8_t high, low;
    out ^= out >> 4;
    high = (uint8_t)crc ^ (uint8_t)(out << 4) ^ (uint8_t)(out >> 3);
    low = out ^ (uint8_t)(out << 5);
    return (uint16_t)((uint16_t)high << 8 | low);
}

uint16_t lamp_crc_byte(uint16_t crc, uint8_t byte)
{
    return crc_byte(crc, byte);
}

uint16_t lamp_crc(const uint8_t *data, uint16_t length)
{
    uint16_t crc = LAMP_CRC_START;
    while (length--)
        crc = crc_byte(crc, *data++);
    return crc;
}

/* ---- reading ---- */

void lamp_reader_start(lamp_reader *reader)
{
    reader->length = 0;
    reader->crc = LAMP_CRC_START;
    reader->code = 0;
    reader->left = 0;
    reader->trouble = FINE;
    reader->ended = 0;
}

void lamp_reader_spoil(lamp_reader *reader)
{
    if (reader->ended)
        lamp_reader_start(reader);
    reader->trouble = SPOILED;
}

FAST void keep(lamp_reader *reader, uint8_t byte)
{
    uint16_t length = reader->length;
    if (reader->trouble)
        return;
    if (length == LAMP_READER_DATA) {
        reader->trouble = TOO_LONG;
        return;
    }
    reader->data[length] = byte;
    reader->length = length + 1;
    if (length >= 2)
        reader->crc = crc_byte(reader->crc, reader->data[length - 2]);
}

/* At a 00: what has been read since the last one. */
static enum lamp_read judge(lamp_reader *reader)
{
    uint16_t length = reader->length;
    if (reader->trouble == TOO_LONG)
        return LAMP_READ_TOO_LONG;
    if (reader->trouble || reader->left)
        return LAMP_READ_BAD_COBS;
    if (reader->code == 0)
        return LAMP_READ_MORE; /* nothing between two 00 is no frame */
    if (length < 2)
        return LAMP_READ_BAD_CRC;
    length -= 2;
    if (reader->data[length] != (uint8_t)reader->crc || reader->data[length + 1] != (uint8_t)(reader->crc >> 8))
        return LAMP_READ_BAD_CRC;
    reader->length = length;
    return LAMP_READ_FRAME;
}

enum lamp_read lamp_reader_byte(lamp_reader *reader, uint8_t byte)
{
    if (reader->ended)
        lamp_reader_start(reader);
    if (byte == 0) {
        reader->ended = 1;
        return judge(reader);
    }
    if (reader->left) {
        reader->left--;
    } else {
        /* A run is over and another begins: between them stood a zero, unless the run was full. */
        uint8_t before = reader->code;
        reader->code = byte;
        reader->left = byte - 1;
        if (before == 0 || before == FULL_RUN)
            return LAMP_READ_MORE;
        byte = 0;
    }
    keep(reader, byte);
    return LAMP_READ_MORE;
}

/* ---- payloads ---- */

static uint16_t get16(const uint8_t *from)
{
    return (uint16_t)(from[0] | (uint16_t)from[1] << 8);
}

static uint32_t get32(const uint8_t *from)
{
    return get16(from) | (uint32_t)get16(from + 2) << 16;
}

static void put(uint8_t *to, uint32_t value, uint8_t bytes)
{
    while (bytes--) {
        *to++ = (uint8_t)value;
        value >>= 8;
    }
}

void lamp_get_setting(const uint8_t *settings, uint8_t place, lamp_setting *setting)
{
    const uint8_t *from = settings + (uint16_t)place * LAMP_SETTING_BYTES;
    setting->slot = from[0];
    setting->rate = get32(from + 1);
    setting->duty = get16(from + 5);
}

void lamp_put_setting(uint8_t *settings, uint8_t place, const lamp_setting *setting)
{
    uint8_t *to = settings + (uint16_t)place * LAMP_SETTING_BYTES;
    to[0] = setting->slot;
    put(to + 1, setting->rate, 4);
    put(to + 5, setting->duty, 2);
}

uint8_t lamp_decode(const uint8_t *payload, uint16_t length, lamp_frame *frame)
{
    const uint8_t *body = payload + 2;
    if (length < 2)
        return 0;
    length -= 2;
    frame->type = payload[0];
    frame->sequence = payload[1];
    switch (frame->type) {
    case LAMP_HELLO:
        if (length != 1)
            return 0;
        frame->is.hello.version = body[0];
        return 1;
    case LAMP_SET:
        if (length < 5 || length != 5 + (uint16_t)body[4] * LAMP_SETTING_BYTES)
            return 0;
        frame->is.set.at = get32(body);
        frame->is.set.count = body[4];
        frame->is.set.settings = body + 5;
        return 1;
    case LAMP_DARK:
        return length == 0;
    case LAMP_BEAT:
        if (length != 4)
            return 0;
        frame->is.beat.micros = get32(body);
        return 1;
    case LAMP_IDENTITY:
        if (length < 8 || length != 8 + (uint16_t)body[7] * 2)
            return 0;
        frame->is.identity.version = body[0];
        frame->is.identity.lamps = body[1];
        frame->is.identity.clock_hz = get32(body + 2);
        frame->is.identity.bits = body[6];
        frame->is.identity.count = body[7];
        frame->is.identity.prescalers = body + 8;
        return 1;
    case LAMP_REPLY:
        if (length != 6 || body[1] > LAMP_REFUSED)
            return 0;
        frame->is.reply.answers = body[0];
        frame->is.reply.status = body[1];
        frame->is.reply.micros = get32(body + 2);
        return 1;
    default:
        return 0;
    }
}

/* ---- writing ---- */

typedef struct {
    uint8_t *at;      /* where the next byte goes */
    uint8_t *code_at; /* where the code of the run being written goes */
    uint8_t code;
    uint16_t crc;
} writer;

static void start(writer *out, uint8_t *wire)
{
    out->code_at = wire;
    out->at = wire + 1;
    out->code = 1;
    out->crc = LAMP_CRC_START;
}

static void close_run(writer *out)
{
    *out->code_at = out->code;
    out->code_at = out->at++;
    out->code = 1;
}

static void stuff(writer *out, uint8_t byte)
{
    /* A full run is closed only when more follows, so that no 01 trails a run that fills its block exactly. */
    if (out->code == FULL_RUN)
        close_run(out);
    if (byte == 0) {
        close_run(out);
        return;
    }
    *out->at++ = byte;
    out->code++;
}

static void add(writer *out, uint8_t byte)
{
    out->crc = lamp_crc_byte(out->crc, byte);
    stuff(out, byte);
}

static void add_number(writer *out, uint32_t value, uint8_t bytes)
{
    for (; bytes--; value >>= 8)
        add(out, (uint8_t)value);
}

static void add_bytes(writer *out, const uint8_t *from, uint16_t count)
{
    while (count--)
        add(out, *from++);
}

uint16_t lamp_stuff(const uint8_t *data, uint16_t length, uint8_t *block)
{
    writer out;
    start(&out, block);
    while (length--)
        stuff(&out, *data++);
    *out.code_at = out.code;
    return (uint16_t)(out.at - block);
}

uint16_t lamp_encode(const lamp_frame *frame, uint8_t *wire)
{
    writer out;
    uint16_t crc;
    start(&out, wire);
    add(&out, frame->type);
    add(&out, frame->sequence);
    switch (frame->type) {
    case LAMP_HELLO:
        add(&out, frame->is.hello.version);
        break;
    case LAMP_SET:
        add_number(&out, frame->is.set.at, 4);
        add(&out, frame->is.set.count);
        add_bytes(&out, frame->is.set.settings, (uint16_t)frame->is.set.count * LAMP_SETTING_BYTES);
        break;
    case LAMP_DARK:
        break;
    case LAMP_BEAT:
        add_number(&out, frame->is.beat.micros, 4);
        break;
    case LAMP_IDENTITY:
        add(&out, frame->is.identity.version);
        add(&out, frame->is.identity.lamps);
        add_number(&out, frame->is.identity.clock_hz, 4);
        add(&out, frame->is.identity.bits);
        add(&out, frame->is.identity.count);
        add_bytes(&out, frame->is.identity.prescalers, (uint16_t)frame->is.identity.count * 2);
        break;
    case LAMP_REPLY:
        add(&out, frame->is.reply.answers);
        add(&out, frame->is.reply.status);
        add_number(&out, frame->is.reply.micros, 4);
        break;
    default:
        return 0;
    }
    crc = out.crc;
    stuff(&out, (uint8_t)crc);
    stuff(&out, (uint8_t)(crc >> 8));
    *out.code_at = out.code;
    *out.at++ = 0;
    return (uint16_t)(out.at - wire);
}
