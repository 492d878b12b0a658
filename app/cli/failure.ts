/** The show, the take or a device is at fault: what, where, what to do. The command ends with 1. */
export class Failure extends Error {}

/** The command was used wrongly; it ends with 2. */
export class WrongUsage extends Error {}
