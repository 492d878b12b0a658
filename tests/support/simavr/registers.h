/* Own models of some registers, in the place of simavr's. */
#ifndef REGISTERS_H
#define REGISTERS_H

#include <simavr/sim_avr.h>
#include <stddef.h>

/* Addresses are those of the data space, as in the data sheet's register summary in brackets. */
static inline void on_write(avr_t *avr, uint16_t address, avr_io_write_t handler, void *param)
{
    avr->io[AVR_DATA_TO_IO(address)].w.c = handler;
    avr->io[AVR_DATA_TO_IO(address)].w.param = param;
}

static inline void on_read(avr_t *avr, uint16_t address, avr_io_read_t handler, void *param)
{
    avr->io[AVR_DATA_TO_IO(address)].r.c = handler;
    avr->io[AVR_DATA_TO_IO(address)].r.param = param;
}

static inline avr_int_vector_t *vector_of(avr_t *avr, uint8_t number)
{
    for (int at = 0; at < avr->interrupts.vector_count; at++)
        if (avr->interrupts.vector[at]->vector == number)
            return avr->interrupts.vector[at];
    return NULL;
}

#endif
