import type { Intent } from '../domain/intent.ts'
import type { LampView } from './strategy.ts'

/** The intent that darkens the part's lamp number `index`; none where there is no such lamp. */
export function darken(view: LampView, index: number): Intent[] {
  const lamp = view.lamps[index]
  return lamp === undefined ? [] : [{ kind: 'dark', lamp }]
}
