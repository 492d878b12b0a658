/*
 * Lamp box frames, protocol version 1: COBS, CRC, and the payloads both ways. PROTOCOL.md describes every byte.
 *
 * Portable C99: no allocation, no library, no hardware. Byte order and alignment of the machine do not matter.
 */
#ifndef LAMP_FRAME_H
#define LAMP_FRAME_H

#include <stdint.h>

#define LAMP_PROTOCOL_VERSION 1

/* A setting in a set frame: slot u8, rate u32, duty u16. */
#define LAMP_SETTING_BYTES 7

/* The longest frame there is, a set of 255 lamps: type, sequence, at, count, settings, CRC. */
#define LAMP_LONGEST_DATA (2 + 5 + 255 * LAMP_SETTING_BYTES + 2)

/* Most bytes of payload and CRC that a reader keeps; a longer frame is dropped. A small chip may set less. */
#ifndef LAMP_READER_DATA
#define LAMP_READER_DATA LAMP_LONGEST_DATA
#endif

/* Bytes on the wire for so many of payload and CRC: a code byte for every 254 begun, and the closing 00. */
#define LAMP_WIRE_BYTES(data) ((data) + (data) / 254 + 2)

/* Enough for any frame that a box with up to 20 prescalers sends. */
#define LAMP_BOX_WIRE_BYTES LAMP_WIRE_BYTES(2 + 8 + 2 * 20 + 2)

enum lamp_type {
    LAMP_HELLO = 0x01,
    LAMP_SET = 0x02,
    LAMP_DARK = 0x03,
    LAMP_BEAT = 0x04,
    LAMP_IDENTITY = 0x81,
    LAMP_REPLY = 0x82
};

enum lamp_status { LAMP_DONE = 0, LAMP_NO_SUCH_SLOT = 1, LAMP_LATE = 2, LAMP_REFUSED = 3 };

/* CRC-16/CCITT-FALSE: polynomial 1021h, not reflected, nothing added at the end. Start with LAMP_CRC_START. */
#define LAMP_CRC_START 0xFFFFu
uint16_t lamp_crc_byte(uint16_t crc, uint8_t byte);
uint16_t lamp_crc(const uint8_t *data, uint16_t length);

/* ---- reading ---- */

enum lamp_read {
    LAMP_READ_MORE,     /* no frame ends here */
    LAMP_READ_FRAME,    /* a payload is in data[0 .. length) until the next byte is given */
    LAMP_READ_BAD_COBS, /* dropped: cut short, or spoiled */
    LAMP_READ_BAD_CRC,  /* dropped: checksum wrong, or too short to have one */
    LAMP_READ_TOO_LONG  /* dropped: more than LAMP_READER_DATA bytes */
};

typedef struct {
    uint16_t length;
    uint16_t crc;    /* of all but the last two bytes, which may be the CRC itself */
    uint8_t code;    /* of the run being read; 0 before the first */
    uint8_t left;    /* bytes of the run still to come */
    uint8_t trouble; /* too long, or spoiled: nothing more is kept */
    uint8_t ended;   /* the next byte begins a frame */
    uint8_t data[LAMP_READER_DATA];
} lamp_reader;

void lamp_reader_start(lamp_reader *reader);

/* Takes the next byte from the line. A damaged frame is dropped whole, and the next good one is taken. */
enum lamp_read lamp_reader_byte(lamp_reader *reader, uint8_t byte);

/* The line lost bytes before the next one given: the frame under way will be dropped at its end. */
void lamp_reader_spoil(lamp_reader *reader);

/* ---- payloads ---- */

/* One frame, either way. Which member of `is` counts follows from `type`. */
typedef struct {
    uint8_t type;
    uint8_t sequence;
    union {
        struct {
            uint8_t version;
        } hello;
        struct {
            uint32_t at;
            uint8_t count;
            const uint8_t *settings; /* count x LAMP_SETTING_BYTES, as on the wire: lamp_get_setting */
        } set;
        struct {
            uint32_t micros;
        } beat;
        struct {
            uint8_t version;
            uint8_t lamps;
            uint32_t clock_hz;
            uint8_t bits;
            uint8_t count;
            const uint8_t *prescalers; /* count x 2 bytes, low byte first */
        } identity;
        struct {
            uint8_t answers;
            uint8_t status;
            uint32_t micros;
        } reply;
    } is;
} lamp_frame;

typedef struct {
    uint8_t slot;
    uint16_t duty; /* 65535 is always on */
    uint32_t rate; /* Hz x 65536; 0 is dark */
} lamp_setting;

/*
 * The frame in a payload. 1, or 0 where the type is unknown, the length is not exactly what the body needs, or a reply has
 * an unknown status. Type and sequence are filled in whenever the payload has them. Pointers go into `payload`.
 */
uint8_t lamp_decode(const uint8_t *payload, uint16_t length, lamp_frame *frame);

void lamp_get_setting(const uint8_t *settings, uint8_t place, lamp_setting *setting);
void lamp_put_setting(uint8_t *settings, uint8_t place, const lamp_setting *setting);

/*
 * Writes a whole frame with CRC, stuffing and closing 00 to `wire`; gives its length. The caller has room for it
 * (LAMP_WIRE_BYTES). 0 for an unknown type.
 */
uint16_t lamp_encode(const lamp_frame *frame, uint8_t *wire);

/* COBS alone, without the closing 00; `block` has room for length + length / 254 + 1. Gives the length of the block. */
uint16_t lamp_stuff(const uint8_t *data, uint16_t length, uint8_t *block);

#endif
