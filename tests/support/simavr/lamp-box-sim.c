/*
 * Runs a lamp box firmware as an ATmega2560 at 16 MHz: CPU, interrupts, ports, timer 0 and watchdog by libsimavr, the lamp
 * timers and the USART by timer16.c and usart0.c. Reports each change of a lamp's pin with its cycle.
 *
 *   lamp-box-sim FIRMWARE.elf --pty [--link PATH] [--control] [--bytes] [--out FILE]     paced to the wall clock, until SIGTERM
 *   lamp-box-sim FIRMWARE.elf --script FILE [--bytes] [--out FILE]           as fast as it goes, the same each time
 *
 * A script has lines `CYCLE send HEX`, `CYCLE hang` (the CPU goes round in one place from now on), `CYCLE poke SYMBOL VALUE`
 * (sets a 32-bit variable), `CYCLE reset` (the reset pin is pulled low for a moment), `CYCLE off` and `CYCLE on` (its power:
 * between them time goes on, and what is sent to it is lost), `CYCLE end`. With --control `reset`, `off` and `on` are taken from
 * standard input, a line each.
 * Other options: --stock-timers (simavr's own), --peek SYMBOL (prints a 16-bit variable at the end).
 *
 * Prints lines: `pty /dev/pts/N`; `pin SLOT LEVEL CYCLE`; with --bytes `rx HEX CYCLE` (come in whole) and `tx HEX CYCLE`
 * (gone out whole); `reset CYCLE`; `peek SYMBOL VALUE`; `overruns N` and `end CYCLE` at the end.
 */
#define _GNU_SOURCE
#include "registers.h"
#include "timer16.h"
#include "usart0.h"
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <simavr/avr_extint.h>
#include <simavr/avr_ioport.h>
#include <simavr/avr_uart.h>
#include <simavr/sim_elf.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

#define HERTZ 16000000u
#define BAUD 500000u
/* Simulated time between looks at the pty and the wall clock. */
#define SLICE_CYCLES 1600u
/* Behind by more than this (a machine that stood still), the debt is forgotten rather than raced after. */
#define FORGIVEN_NANOS 50000000ll

static FILE *out;
static avr_t *avr;
static int show_bytes;
static int pty = -1;
static volatile sig_atomic_t stopped;
static const char *peeks[16];
static int peek_count;
/* Cycles that passed while the box had no power: simavr counts none of them. */
static uint64_t away;
static int is_off;

static unsigned long long told(uint64_t cycle)
{
    return cycle + away;
}

static void fail(const char *what, const char *which)
{
    fprintf(stderr, "lamp-box-sim: %s %s%s%s\n", what, which ? which : "", errno ? ": " : "", errno ? strerror(errno) : "");
    exit(2);
}

static void stop(int signal)
{
    (void)signal;
    stopped = 1;
}

static void pin_moved(int slot, int level, uint64_t cycle)
{
    fprintf(out, "pin %d %d %llu\n", slot, level, told(cycle));
}

static void byte_sent(uint8_t byte, uint64_t cycle)
{
    if (show_bytes)
        fprintf(out, "tx %02x %llu\n", byte, told(cycle));
    /* A line has no memory: where nobody reads, the byte is gone. */
    if (pty >= 0 && write(pty, &byte, 1) < 0 && errno != EAGAIN)
        fail("cannot write to the pty", NULL);
}

static void byte_received(uint8_t byte, uint64_t cycle)
{
    if (show_bytes)
        fprintf(out, "rx %02x %llu\n", byte, told(cycle));
}

/* ---- simavr's own pins, for --stock-timers ---- */

static void stock_pin(struct avr_irq_t *irq, uint32_t value, void *param)
{
    static int levels[4];
    int slot = (int)(intptr_t)param, level = value & 1;
    (void)irq;
    if (level != levels[slot]) {
        levels[slot] = level;
        pin_moved(slot, level, avr->cycle);
    }
}

static void attach_stock(void)
{
    static const char PORTS[] = "BEHL";
    static const int PINS[] = { 6, 4, 4, 4 };
    for (int slot = 0; slot < 4; slot++)
        avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ(PORTS[slot]), PINS[slot]), stock_pin,
                                (void *)(intptr_t)slot);
}

/* ---- resets ---- */

/* Timer 0's flags are cleared one by one, by writing ones; simavr 1.6 clears them all and loses overflows. */
static void write_timer0_flags(avr_t *core, avr_io_addr_t address, uint8_t value, void *param)
{
    static const struct {
        uint8_t bit, vector;
    } FLAGS[] = { { 1, 23 }, { 2, 21 }, { 4, 22 } };
    (void)param;
    for (int at = 0; at < 3; at++)
        if (value & FLAGS[at].bit) {
            avr_clear_interrupt(core, vector_of(core, FLAGS[at].vector));
            core->data[address] &= ~FLAGS[at].bit;
        }
}

/* Pin PE4 is an interrupt too, not enabled; simavr would look at it each cycle while it is low. */
static void calm_pins(void)
{
    avr_extint_set_strict_lvl_trig(avr, 4, 0);
}

static void (*own_reset)(struct avr_t *avr);
static int stock_timers;
static int started;
static uint8_t unhung[2];
static int32_t hung_at = -1;

static void after_reset(struct avr_t *core)
{
    if (own_reset)
        own_reset(core);
    if (!started)
        return;
    fprintf(out, "reset %llu\n", told(core->cycle));
    if (hung_at >= 0)
        memcpy(core->flash + hung_at, unhung, 2);
    hung_at = -1;
}

static void hang(void)
{
    hung_at = (int32_t)avr->pc;
    memcpy(unhung, avr->flash + hung_at, 2);
    avr->flash[hung_at] = 0xFF; /* rjmp to itself */
    avr->flash[hung_at + 1] = 0xCF;
}

static void no_sleep(avr_t *core, avr_cycle_count_t cycles)
{
    (void)core, (void)cycles;
}

static void parts_reset(void)
{
    if (!stock_timers)
        timers_reset();
    usart_reset();
    calm_pins();
}

/* The reset pin: registers are as after power-up, memory is as it was. */
static void reset_pin(void)
{
    avr_reset(avr);
    parts_reset();
}

static void power_off(void)
{
    is_off = 1;
    usart_line_lost();
    reset_pin();
}

/* What is in the memory of a chip that had no power is anybody's guess. */
static void power_on(void)
{
    uint32_t noise = 0x2545F491;
    for (int address = avr->ioend + 1; address <= avr->ramend; address++) {
        noise = noise * 1664525u + 1013904223u;
        avr->data[address] = (uint8_t)(noise >> 24);
    }
    is_off = 0;
}

/* Whether the word was one of those that bear on reset and power. */
static int obey(const char *word)
{
    if (strcmp(word, "reset") == 0)
        reset_pin();
    else if (strcmp(word, "off") == 0)
        power_off();
    else if (strcmp(word, "on") == 0)
        power_on();
    else
        return 0;
    return 1;
}

/* ---- running ---- */

static void run_until(uint64_t cycle)
{
    avr_run_t normal = avr->run;
    while (avr->cycle < cycle && !stopped) {
        int state = avr_run(avr);
        if (state == cpu_Done || state == cpu_Crashed) {
            fprintf(out, "crashed %llu\n", told(avr->cycle));
            fail("the firmware stopped", NULL);
        }
        if (avr->run != normal) { /* the hardware watchdog: simavr resets on the next call */
            avr_run(avr);
            parts_reset();
        }
        usart_interrupts();
    }
}

static avr_cycle_count_t wake(avr_t *core, avr_cycle_count_t when, void *param)
{
    (void)core, (void)when, (void)param;
    return 0;
}

/* So that a sleeping CPU is not jumped past the moment. */
static void run_to(uint64_t cycle)
{
    if (is_off) {
        away += cycle - avr->cycle;
        return;
    }
    if (cycle > avr->cycle)
        avr_cycle_timer_register(avr, cycle - avr->cycle, wake, NULL);
    run_until(cycle);
}

static elf_firmware_t firmware;

static uint16_t address_of(const char *name)
{
    for (uint32_t symbol = 0; symbol < firmware.symbolcount; symbol++)
        if (strcmp(firmware.symbol[symbol]->symbol, name) == 0)
            return (uint16_t)firmware.symbol[symbol]->addr;
    fail("the firmware has no variable", name);
    return 0;
}

static void run_script(const char *path)
{
    FILE *script = fopen(path, "r");
    static char line[1 << 20];
    if (!script)
        fail("cannot read", path);
    while (fgets(line, sizeof line, script)) {
        unsigned long long cycle;
        char verb[8];
        int at;
        if (sscanf(line, "%llu %7s %n", &cycle, verb, &at) < 2)
            fail("not a line of a script:", line);
        run_to(cycle - away);
        if (strcmp(verb, "end") == 0)
            break;
        if (obey(verb))
            continue;
        if (strcmp(verb, "hang") == 0) {
            hang();
        } else if (strcmp(verb, "poke") == 0) {
            char name[64];
            unsigned long value;
            if (sscanf(line + at, "%63s %lu", name, &value) != 2)
                fail("not a line of a script:", line);
            for (int byte = 0; byte < 4; byte++)
                avr->data[address_of(name) + byte] = (uint8_t)(value >> 8 * byte);
        } else if (strcmp(verb, "send") == 0) {
            unsigned value;
            for (const char *hex = line + at; !is_off && sscanf(hex, "%2x", &value) == 1; hex += 2) {
                uint8_t byte = (uint8_t)value;
                usart_line(&byte, 1);
            }
        } else {
            fail("unknown in a script:", verb);
        }
    }
    fclose(script);
}

static int64_t nanos(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return now.tv_sec * 1000000000ll + now.tv_nsec;
}

/* Words on standard input, where they are asked for. */
static void look_for_words(void)
{
    static char word[16];
    static size_t length;
    char byte;
    while (read(STDIN_FILENO, &byte, 1) == 1) {
        if (byte != '\n') {
            if (length < sizeof word - 1)
                word[length++] = byte;
            continue;
        }
        word[length] = 0;
        length = 0;
        if (!obey(word))
            fail("not a word for the box:", word);
    }
}

static void run_paced(int control)
{
    int64_t origin = nanos();
    uint64_t origin_cycle = told(avr->cycle);
    if (control)
        fcntl(STDIN_FILENO, F_SETFL, fcntl(STDIN_FILENO, F_GETFL) | O_NONBLOCK);
    prctl(PR_SET_TIMERSLACK, 1000);
    while (!stopped) {
        struct pollfd ready = { .fd = pty, .events = POLLIN };
        struct timespec wait = { 0, 0 };
        int64_t due, ahead;
        if (control)
            look_for_words();
        run_to(avr->cycle + SLICE_CYCLES);
        fflush(out);
        due = origin + (int64_t)(told(avr->cycle) - origin_cycle) * 125 / 2;
        ahead = due - nanos();
        if (ahead < -FORGIVEN_NANOS) {
            origin = nanos();
            origin_cycle = told(avr->cycle);
        }
        do {
            if (ahead > 0)
                wait.tv_nsec = ahead;
            if (ppoll(&ready, 1, &wait, NULL) > 0 && usart_line_waiting() < 4096) {
                uint8_t bytes[256];
                ssize_t count = read(pty, bytes, sizeof bytes);
                if (count > 0 && !is_off)
                    usart_line(bytes, (size_t)count);
                break; /* what has come is on the line from now on: never ahead, and at most a slice late */
            }
            wait.tv_nsec = 0;
            ahead = due - nanos();
        } while (ahead > 0 && !stopped);
        while ((ahead = due - nanos()) > 0 && !stopped) {
            struct timespec rest = { 0, ahead };
            nanosleep(&rest, NULL);
        }
    }
}

static int open_pty(void)
{
    int master = posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK);
    struct termios raw;
    int end;
    if (master < 0 || grantpt(master) < 0 || unlockpt(master) < 0)
        fail("cannot make a pty", NULL);
    /* Kept open, so that the line stays up, and raw, between its users. */
    end = open(ptsname(master), O_RDWR | O_NOCTTY);
    if (end < 0 || tcgetattr(end, &raw) < 0)
        fail("cannot open", ptsname(master));
    cfmakeraw(&raw);
    tcsetattr(end, TCSANOW, &raw);
    return master;
}

static void peek(void)
{
    for (int at = 0; at < peek_count; at++) {
        uint16_t address = address_of(peeks[at]);
        fprintf(out, "peek %s %d\n", peeks[at], avr->data[address] | avr->data[address + 1] << 8);
    }
}

int main(int argc, char **argv)
{
    const char *elf = NULL, *script = NULL, *link_path = NULL;
    int want_pty = 0, control = 0;
    out = stdout;
    for (int at = 1; at < argc; at++) {
        const char *word = argv[at];
        if (strcmp(word, "--pty") == 0)
            want_pty = 1;
        else if (strcmp(word, "--control") == 0)
            control = 1;
        else if (strcmp(word, "--bytes") == 0)
            show_bytes = 1;
        else if (strcmp(word, "--stock-timers") == 0)
            stock_timers = 1;
        else if (strcmp(word, "--link") == 0 && at + 1 < argc)
            link_path = argv[++at];
        else if (strcmp(word, "--script") == 0 && at + 1 < argc)
            script = argv[++at];
        else if (strcmp(word, "--peek") == 0 && at + 1 < argc && peek_count < 16)
            peeks[peek_count++] = argv[++at];
        else if (strcmp(word, "--out") == 0 && at + 1 < argc) {
            if (!(out = fopen(argv[++at], "w")))
                fail("cannot write", argv[at]);
        } else if (word[0] != '-' && !elf)
            elf = word;
        else
            fail("unknown option", word);
    }
    if (!elf || want_pty == !!script)
        fail("usage: lamp-box-sim FIRMWARE.elf (--pty [--link PATH] [--control] | --script FILE) [--bytes] [--out FILE]", NULL);
    signal(SIGTERM, stop);
    signal(SIGINT, stop);
    signal(SIGPIPE, stop);
    setvbuf(out, NULL, _IOFBF, 1 << 16);

    if (elf_read_firmware(elf, &firmware) < 0)
        fail("not a firmware:", elf);
    avr = avr_make_mcu_by_name("atmega2560");
    if (!avr)
        fail("this libsimavr knows no atmega2560", NULL);
    own_reset = avr->reset;
    avr->reset = after_reset;
    avr_init(avr);
    avr->frequency = HERTZ;
    avr_load_firmware(avr, &firmware);
    avr->frequency = HERTZ;
    avr->sleep = no_sleep;
    if (stock_timers)
        attach_stock();
    else
        timers_attach(avr, pin_moved);
    usart_attach(avr, BAUD, byte_sent, byte_received);
    on_write(avr, 0x35, write_timer0_flags, NULL);
    calm_pins();
    started = 1;
    if (script) {
        run_script(script);
    } else {
        pty = open_pty();
        if (link_path) {
            unlink(link_path);
            if (symlink(ptsname(pty), link_path) < 0)
                fail("cannot link", link_path);
        }
        fprintf(out, "pty %s\n", ptsname(pty));
        fflush(out);
        run_paced(control);
        if (link_path)
            unlink(link_path);
    }
    peek();
    fprintf(out, "overruns %u\nend %llu\n", usart_overruns(), told(avr->cycle));
    fclose(out);
    return 0;
}
