/* Reference lamp box: ATmega2560 at 16 MHz, four lamps, 500,000 baud. PROTOCOL.md has the protocol, the wiring and porting. */
#include "box.h"
#include "clock.h"
#include "lamps.h"
#include "uart.h"
#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/sleep.h>
#include <avr/wdt.h>

static lamp_reader reader;

/* The hardware watchdog stays on through the reset it causes, at its shortest: off before anything that takes time. */
void before_main(void) __attribute__((naked, used, section(".init3")));
void before_main(void)
{
    MCUSR = 0;
    wdt_disable();
}

static void each_turn(uint8_t turn)
{
    wdt_reset();
    /* Every millisecond is often enough for 500 of them. */
    if ((turn & 7) == 0)
        box_watch();
}

static inline void take(uint16_t taken)
{
    if (taken & UART_LOST)
        lamp_reader_spoil(&reader);
    if (lamp_reader_byte(&reader, (uint8_t)taken) == LAMP_READ_FRAME)
        box_frame(reader.data, reader.length);
}

int main(void)
{
    uint8_t turn = 0;
    lamps_start();
    lamp_reader_start(&reader);
    clock_start();
    uart_start();
    wdt_enable(WDTO_120MS);
    set_sleep_mode(SLEEP_MODE_IDLE);
    sei();
    for (;;) {
        uint16_t taken;
        uint8_t now = (uint8_t)clock_turns;
        if (now != turn) {
            /* Only while the clock's interrupt runs is the hardware watchdog kept quiet. */
            turn = now;
            each_turn(turn);
        }
        while ((taken = uart_take()) != UART_NOTHING) {
            take(taken);
            if ((uint8_t)clock_turns != turn)
                break;
        }
        cli();
        if (!uart_waiting() && (uint8_t)clock_turns == turn) {
            /* sei lets one more instruction run before any interrupt: none can slip in between and be slept through. */
            sleep_enable();
            sei();
            sleep_cpu();
            sleep_disable();
        }
        sei();
    }
}
