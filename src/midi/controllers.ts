/** Controller numbers that MIDI itself gives a meaning the code relies on. MIDI 1.0 Detailed Specification, table of controllers. */
export const CC_DATA_ENTRY_MSB = 6
export const CC_DATA_ENTRY_LSB = 38
export const CC_DATA_INCREMENT = 96
export const CC_NON_REGISTERED_LSB = 98
export const CC_NON_REGISTERED_MSB = 99
export const CC_REGISTERED_LSB = 100
export const CC_REGISTERED_MSB = 101
export const CC_RESET_ALL = 121

/** Registered parameters. MIDI 1.0 Detailed Specification; 6 is from MPE 1.x. */
export const RPN_BEND_RANGE = 0
export const RPN_FINE_TUNING = 1
export const RPN_COARSE_TUNING = 2
export const RPN_TUNING_PROGRAM = 3
export const RPN_TUNING_BANK = 4
/** 7F 7F: no parameter is selected. */
export const PARAMETER_NULL = 0x3fff
