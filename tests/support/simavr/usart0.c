#include "usart0.h"
#include "registers.h"
#include <simavr/sim_cycle_timers.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { UCSRA = 0xC0, UCSRB = 0xC1, UCSRC = 0xC2, UBRRL = 0xC4, UBRRH = 0xC5, UDR = 0xC6 };
enum { U2X = 0x02, DOR = 0x08, FE = 0x10, UDRE = 0x20, TXC = 0x40, RXC = 0x80 };
enum { TXEN = 0x08, RXEN = 0x10, UDRIE = 0x20, RXCIE = 0x80 };
enum { RX_VECTOR = 25, UDRE_VECTOR = 26 };

#define LINE_BYTES (1 << 20)

static avr_t *avr;
static byte_passed tell_sent, tell_received;
static uint32_t line_bit; /* cycles a bit on the line */

/* the line */
static uint8_t line[LINE_BYTES];
static size_t line_in, line_out;
static int line_busy;

/* the receiver */
static uint8_t received[3], framing[3]; /* two in the buffer, one in the shift register */
static int received_count;
static int overrun;
static uint32_t overruns;

/* the transmitter */
static int shifting = -1, buffered = -1;

static uint32_t own_bit(void)
{
    uint32_t divisor = (avr->data[UBRRL] | (avr->data[UBRRH] & 0xF) << 8) + 1;
    return divisor * (avr->data[UCSRA] & U2X ? 8 : 16);
}

static uint8_t flags(void)
{
    return (avr->data[UCSRA] & U2X) | (received_count ? RXC : 0) | (received_count && framing[0] ? FE : 0) |
           (overrun ? DOR : 0) | (buffered < 0 ? UDRE : 0);
}

static avr_cycle_count_t next_byte(avr_t *core, avr_cycle_count_t when, void *param);

/* The middle of the stop bit. */
static avr_cycle_count_t byte_done(avr_t *core, avr_cycle_count_t when, void *param)
{
    uint8_t byte = line[(line_out - 1) % LINE_BYTES];
    uint32_t own = own_bit();
    (void)core, (void)param;
    if (avr->data[UCSRB] & RXEN) {
        /* 4 % off and more is not understood any longer (data sheet, table of receiver error). */
        int wrong = abs((int)own - (int)line_bit) * 25 > (int)line_bit;
        received[received_count] = wrong ? byte ^ 0x55 : byte;
        framing[received_count] = wrong;
        received_count++;
        tell_received(byte, when);
    }
    return 0;
}

/* A start bit. */
static avr_cycle_count_t next_byte(avr_t *core, avr_cycle_count_t when, void *param)
{
    (void)param;
    if (line_out == line_in) {
        line_busy = 0;
        return 0;
    }
    line_busy = 1;
    line_out++;
    if (received_count == 3) {
        received_count = 2; /* what waited in the shift register is overwritten */
        overrun = 1;
        overruns++;
        fprintf(stderr, "lamp-box-sim: overrun at cycle %llu\n", (unsigned long long)when);
    }
    avr_cycle_timer_register(core, when + line_bit * 19 / 2 - core->cycle, byte_done, NULL);
    return when + 10 * line_bit;
}

void usart_line(const uint8_t *bytes, size_t count)
{
    while (count--) {
        if (line_in - line_out == LINE_BYTES) {
            fprintf(stderr, "lamp-box-sim: more than %d bytes wait on the line\n", LINE_BYTES);
            exit(3);
        }
        line[line_in++ % LINE_BYTES] = *bytes++;
    }
    if (!line_busy && line_in != line_out) {
        line_busy = 1;
        avr_cycle_timer_register(avr, 0, next_byte, NULL);
    }
}

void usart_line_lost(void)
{
    line_out = line_in;
}

size_t usart_line_waiting(void)
{
    return line_in - line_out;
}

uint32_t usart_overruns(void)
{
    return overruns;
}

void usart_interrupts(void)
{
    uint8_t enabled = avr->data[UCSRB];
    if (!avr->sreg[S_I])
        return;
    if (enabled & RXCIE && received_count)
        avr_raise_interrupt(avr, vector_of(avr, RX_VECTOR));
    if (enabled & UDRIE && buffered < 0)
        avr_raise_interrupt(avr, vector_of(avr, UDRE_VECTOR));
}

static void calm(uint8_t vector)
{
    vector_of(avr, vector)->pending = 0;
}

static uint8_t read_flags(avr_t *core, avr_io_addr_t address, void *param)
{
    (void)core, (void)address, (void)param;
    return flags();
}

static void write_flags(avr_t *core, avr_io_addr_t address, uint8_t value, void *param)
{
    (void)address, (void)param;
    core->data[UCSRA] = value & U2X;
}

static void write_control(avr_t *core, avr_io_addr_t address, uint8_t value, void *param)
{
    (void)param;
    core->data[address] = value;
    if (!(value & UDRIE))
        calm(UDRE_VECTOR);
    if (!(value & RXCIE))
        calm(RX_VECTOR);
    if (!(value & RXEN))
        received_count = 0;
}

static uint8_t read_data(avr_t *core, avr_io_addr_t address, void *param)
{
    uint8_t byte = received[0];
    (void)core, (void)address, (void)param;
    if (received_count) {
        received_count--;
        memmove(received, received + 1, 2);
        memmove(framing, framing + 1, 2);
    }
    overrun = 0;
    if (!received_count)
        calm(RX_VECTOR);
    return byte;
}

static avr_cycle_count_t shifted(avr_t *core, avr_cycle_count_t when, void *param)
{
    (void)core, (void)param;
    tell_sent((uint8_t)shifting, when);
    shifting = buffered;
    buffered = -1;
    return shifting < 0 ? 0 : when + 10 * own_bit();
}

static void write_data(avr_t *core, avr_io_addr_t address, uint8_t value, void *param)
{
    (void)address, (void)param;
    if (!(core->data[UCSRB] & TXEN))
        return;
    if (shifting < 0) {
        shifting = value;
        avr_cycle_timer_register(core, 10 * own_bit(), shifted, NULL);
        return;
    }
    if (buffered >= 0) {
        fprintf(stderr, "lamp-box-sim: UDR written while full, at cycle %llu\n", (unsigned long long)core->cycle);
        exit(3);
    }
    buffered = value;
    calm(UDRE_VECTOR);
}

void usart_attach(avr_t *core, uint32_t line_baud, byte_passed sent, byte_passed got)
{
    avr = core;
    tell_sent = sent;
    tell_received = got;
    line_bit = core->frequency / line_baud;
    on_read(core, UCSRA, read_flags, NULL);
    on_write(core, UCSRA, write_flags, NULL);
    on_write(core, UCSRB, write_control, NULL);
    core->io[AVR_DATA_TO_IO(UCSRC)].w.c = NULL;
    core->io[AVR_DATA_TO_IO(UBRRL)].w.c = NULL;
    on_read(core, UDR, read_data, NULL);
    on_write(core, UDR, write_data, NULL);
}

void usart_reset(void)
{
    avr_cycle_timer_cancel(avr, shifted, NULL);
    avr_cycle_timer_cancel(avr, byte_done, NULL);
    avr_cycle_timer_cancel(avr, next_byte, NULL);
    received_count = overrun = 0;
    shifting = buffered = -1;
    line_busy = 0;
    usart_line(NULL, 0);
}
