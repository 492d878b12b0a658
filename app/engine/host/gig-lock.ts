import type { ToHost } from '../../../src/contract/to-host.ts'
import type { Place } from './entry.ts'

const LOCKED =
  'The gig lock is on: only playing, changing songs and Dark. A screen on the machine that plays takes it off.'

/** Why that is not done while the lock is on, for the person in front of the screen; undefined: it is. */
export function lockRefusal(message: Exclude<ToHost, { type: 'enter' }>, place: Place): string | undefined {
  switch (message.type) {
    case 'edit':
    case 'undo':
    case 'redo':
    case 'new-show':
    case 'open-demo':
    case 'open-file':
    case 'open-text':
    case 'recovery':
    case 'rig':
    case 'learn':
    case 'find-lamp':
      return LOCKED
    case 'file-changed':
      return message.do === 'read-again' ? LOCKED : undefined
    case 'lock':
      // Somebody who holds a tablet may lock for everybody; who unlocks can see the stage's own machine.
      return message.locked || place !== 'remote' ? undefined : LOCKED
    case 'song':
    case 'go':
    case 'variant':
    case 'stay':
    case 'tempo':
    case 'tap':
    case 'beats':
    case 'tune':
    case 'dark-all':
    case 'choose-port':
    case 'listen-again':
    case 'list-ports':
    case 'learn-end':
    case 'watch':
    // What is played stays what it is, and work that is on the disk is one worry less.
    case 'save':
    case 'ask-sheet':
    case 'ask-tuning':
    case 'read-scale':
    case 'ask-scales':
    case 'write-scale':
    case 'ask-checks':
    case 'ask-take-checks':
    case 'ask-venue':
    case 'cautions-read':
    case 'begin':
    case 'sleep':
    case 'awake':
    case 'quit':
      return undefined
  }
}
