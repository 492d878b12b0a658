import type { SerialLinkOut } from '../../../src/outputs/serial-link-event.ts'
import type { RememberedPort } from './serial-match.ts'
import type { SerialFault } from './serial-system.ts'

/** What an engine hears of a lamp box. */
export type SerialDriverEvent =
  /** The port is open; the box is greeted. */
  | { readonly kind: 'opened'; readonly path: string; readonly moved: boolean }
  /** What the open port is, to find it again by when its path changes. */
  | { readonly kind: 'learned'; readonly port: RememberedPort }
  /** The port did not open; told again only when the fault changes. It is tried again. */
  | { readonly kind: 'not-open'; readonly fault: SerialFault; readonly message: string }
  /** The box answers, for the first time or `again`, and gets the full state. */
  | { readonly kind: 'ready'; readonly again: boolean }
  /** The box answers no more, or its port is gone. It is looked for. */
  | { readonly kind: 'lost'; readonly reason: string; readonly portOpen: boolean }
  /** The link refused something; its lamps are darkened. */
  | { readonly kind: 'fault'; readonly message: string }
  | Extract<SerialLinkOut, { readonly kind: 'identity' | 'count' | 'latency' }>
