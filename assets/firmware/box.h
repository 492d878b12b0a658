/* The protocol: what each frame does. */
#ifndef BOX_H
#define BOX_H

#include "lamp_frame.h"

/* Handles a frame whose CRC is right: feeds the watchdog, obeys, answers. */
void box_frame(const uint8_t *payload, uint16_t length);

/* All dark where no valid frame has come for 500 ms. Call at least every few milliseconds. */
void box_watch(void);

#endif
