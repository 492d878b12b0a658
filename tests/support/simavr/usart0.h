/*
 * USART 0 of the ATmega2560 and the line to it, from the data sheet: 8N1, a receive buffer of two bytes and a shift register,
 * overrun where a third has come and a start bit follows, a transmit buffer of one byte. simavr's own takes eleven bits a
 * byte and buffers 64, so that a firmware that is too slow would go unnoticed.
 */
#ifndef USART0_H
#define USART0_H

#include <simavr/sim_avr.h>
#include <stddef.h>

/* A byte has gone out to the line (its stop bit ends at `cycle`), or has come in whole. */
typedef void (*byte_passed)(uint8_t byte, uint64_t cycle);

void usart_attach(avr_t *avr, uint32_t line_baud, byte_passed sent, byte_passed received);
void usart_reset(void);

/* Bytes for the firmware: they follow each other without a pause, the first as soon as the line is free. */
void usart_line(const uint8_t *bytes, size_t count);

/* What is on the line reaches nobody: for a receiver without power. */
void usart_line_lost(void);

/* Bytes given and not yet begun. */
size_t usart_line_waiting(void);

/* Level-triggered interrupts: call after each instruction. */
void usart_interrupts(void);

uint32_t usart_overruns(void);

#endif
