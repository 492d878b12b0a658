import type { MenuCommand } from '../../src/contract/desktop-bridge.ts'

/** Every channel between a window and the main process, and nothing else passes. */
export const CHANNELS = {
  // From the window.
  connect: 'lanthorn:connect',
  openDialog: 'lanthorn:open-dialog',
  saveDialog: 'lanthorn:save-dialog',
  openDropped: 'lanthorn:open-dropped',
  // To the window.
  port: 'lanthorn:port',
  menu: 'lanthorn:menu',
} as const

const COMMANDS = [
  'open',
  'save',
  'save-as',
  'new-show',
  'undo',
  'redo',
  'next-song',
  'previous-song',
  'stage',
  'songs',
  'sheet',
  'steps',
  'tuning',
  'rig',
  'checks',
  'monitor',
] as const satisfies readonly MenuCommand[]

/** Whether `menu` carries something that a menu may ask. */
export function isMenuCommand(raw: unknown): raw is MenuCommand {
  return COMMANDS.some((command) => command === raw)
}
