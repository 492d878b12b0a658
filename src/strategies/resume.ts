import { z } from 'zod'

/** Whether notes wait for a lamp; each strategy has its own default. */
export const resumeSchema = z
  .boolean()
  .describe('A note that lost its lamp, or found none, comes back when a lamp frees while its key is down')
