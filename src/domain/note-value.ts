/** A note value as a show has it: "1/16", "3/8", a fraction of a whole note. */
export const NOTE_VALUE_TEXT = /^([1-9]\d{0,3})\/([1-9]\d{0,3})$/
