#include "uart.h"
#include <avr/interrupt.h>
#include <avr/io.h>

/* Rings of 256, so that an 8-bit place wraps by itself. One place stays empty, to tell full from empty. */
volatile uint8_t uart_rx_byte[256], uart_rx_lost[256], uart_rx_in, uart_rx_out;
static uint8_t rx_losing;

static volatile uint8_t tx_byte[256];
static volatile uint8_t tx_in, tx_out;

/* Read by the test harness; a debugger can too. */
volatile uint16_t uart_overruns, uart_ring_full, uart_framing;

void uart_start(void)
{
    /* Double speed, 16 MHz / (8 x (3 + 1)) = 500,000 exactly (data sheet, baud rate examples). */
    UCSR0A = _BV(U2X0);
    UBRR0 = 3;
    UCSR0C = _BV(UCSZ01) | _BV(UCSZ00);
    UCSR0B = _BV(RXEN0) | _BV(TXEN0) | _BV(RXCIE0);
}

/* With interrupts off. Flags are of the byte that UDR gives next, so they are read first. */
static inline __attribute__((always_inline)) void receive(void)
{
    uint8_t flags = UCSR0A;
    uint8_t byte = UDR0;
    uint8_t in = uart_rx_in;
    if (flags & (_BV(DOR0) | _BV(FE0))) {
        if (flags & _BV(DOR0))
            uart_overruns++;
        else
            uart_framing++;
        rx_losing = 1;
    }
    if ((uint8_t)(in + 1) == uart_rx_out) {
        uart_ring_full++;
        rx_losing = 1;
        return;
    }
    uart_rx_byte[in] = byte;
    uart_rx_lost[in] = rx_losing;
    rx_losing = 0;
    uart_rx_in = in + 1;
}

ISR(USART0_RX_vect)
{
    receive();
}

void uart_poll(void)
{
    while (UCSR0A & _BV(RXC0))
        receive();
}

uint8_t uart_room(void)
{
    return (uint8_t)(tx_out - tx_in - 1);
}

void uart_send(const uint8_t *bytes, uint8_t count)
{
    uint8_t in = tx_in;
    while (count--)
        tx_byte[in++] = *bytes++;
    tx_in = in;
    /* Not a single instruction at this address, and the interrupt below changes it too. */
    uint8_t sreg = SREG;
    cli();
    UCSR0B |= _BV(UDRIE0);
    SREG = sreg;
}

ISR(USART0_UDRE_vect)
{
    uint8_t out = tx_out;
    UDR0 = tx_byte[out++];
    tx_out = out;
    if (out == tx_in)
        UCSR0B &= (uint8_t)~_BV(UDRIE0);
}
