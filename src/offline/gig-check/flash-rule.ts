import { FLASHES_ALLOWED, SEEN_STEADY_HZ } from '../../domain/flash-guard.ts'
import { CONCERN_BAND } from '../../domain/pulse-rate.ts'

/** What flashes in a second are held against. */
export const FLASH_RULE = `WCAG 2.2 SC 2.3.1 allows at most ${FLASHES_ALLOWED} flashes in any one second`

/** What the share of lamps that flash is held against: by lamps, since nobody knows their area. */
export const SHARE_RULE =
  'ITU-R BT.1702 (second-hand) holds more than three flashes a second against more than a quarter of the view; the share of lamps is only a stand-in for that'
/** The quarter of ITU-R BT.1702. */
export const SHARE_OF_VIEW = 0.25

export const BAND_WORDS = `${CONCERN_BAND[0]} to ${CONCERN_BAND[1]} Hz, the band of most concern (epilepsy charities, second-hand)`
export const SEEN_WORDS = `under ${SEEN_STEADY_HZ} Hz, slowly enough to be seen by some`
