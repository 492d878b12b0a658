/* UART 0 at 500,000 baud, 8N1, both ways through ring buffers. */
#ifndef UART_H
#define UART_H

#include <stdint.h>

void uart_start(void);

/*
 * The next byte from the line, or UART_NOTHING. With UART_LOST added where bytes before it were lost (overrun, ring full) or
 * it came damaged.
 */
#define UART_NOTHING 0xFFFF
#define UART_LOST 0x0100
static inline uint16_t uart_take(void);

static inline uint8_t uart_waiting(void);

/* For long stretches with interrupts off: takes what the receiver has, so that it does not overrun. */
void uart_poll(void);

/* Room for so many bytes to send. */
uint8_t uart_room(void);

/* Sends; the caller has asked for room. */
void uart_send(const uint8_t *bytes, uint8_t count);

/* Within the work of each byte a call costs as much as what is called; so these are here. A ring of 256 wraps by itself. */
extern volatile uint8_t uart_rx_byte[256], uart_rx_lost[256], uart_rx_in, uart_rx_out;

static inline uint8_t uart_waiting(void)
{
    return uart_rx_in != uart_rx_out;
}

static inline uint16_t uart_take(void)
{
    uint8_t out = uart_rx_out;
    uint16_t taken;
    if (out == uart_rx_in)
        return UART_NOTHING;
    taken = uart_rx_byte[out] | (uint16_t)uart_rx_lost[out] << 8;
    uart_rx_out = out + 1;
    return taken;
}

#endif
