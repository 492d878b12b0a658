#include "lamp_timer.h"

uint8_t lamp_choose_prescaler(const lamp_prescaler *table, uint8_t count, uint32_t rate)
{
    uint8_t at = 0;
    while (at < count && rate < table[at].least_rate)
        at++;
    return at;
}

/*
 * Long division in 17 steps, since the quotient is known to be at most 65536: a third of the time of a general 64-bit
 * division on an 8-bit chip. The remainder stays below `rate`, so the bit that doubling may push out of it means "greater".
 * Digits of the quotient move in at the bottom of `low` as those of the dividend move out at its top.
 */
uint32_t lamp_period(const lamp_prescaler *prescaler, uint32_t rate)
{
    uint32_t rest = prescaler->whole_high;
    uint32_t low = prescaler->whole_low;
    uint8_t step;
    for (step = 0; step < 17; step++) {
        uint8_t over = rest >= 0x80000000u;
        rest <<= 1;
        if (low & 0x80000000u)
            rest |= 1;
        low <<= 1;
        if (over || rest >= rate) {
            rest -= rate;
            low |= 1;
        }
    }
    /* Half up. */
    return rest >= rate - rest ? low + 1 : low;
}

/*
 * floor((2 x duty x period + 65535) / (2 x 65535)) = floor((duty x period + 32767) / 65535), because an odd number has no
 * half; and 65535 x 65536 + 32767 still fits 32 bits. Division by 65535: n = 65536 a + b = 65535 a + (a + b).
 */
uint32_t lamp_on_ticks(uint16_t duty, uint32_t period)
{
    uint32_t product = duty * period + 32767u;
    uint32_t high = product >> 16;
    uint32_t over = high + (product & 0xFFFF);
    uint32_t ticks = high;
    for (; over >= 65535u; over -= 65535u)
        ticks++;
    if (ticks == 0)
        return 1;
    return ticks < period ? ticks : period;
}
