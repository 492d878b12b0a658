/**
 * For tests that drive several real processes against the clock: on a machine that others use as well, one of them may be held up for
 * longer than the limits allow. Such a test may try once more; a fault of ours fails twice.
 */
export const REAL_PROCESSES = { retry: 1 } as const
