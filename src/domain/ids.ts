export type LampId = string
export type SupplyId = string
export type OutputId = string
export type PlayerId = string
export type PartId = string
export type SongId = string
export type TuningId = string
export type PatternId = string
export type RowId = string

/** One strike of one key by one player; never used twice, so a late note-off can only end its own strike. 0: nobody's. */
export type NoteId = number

/** A lamp's place in `rig.lamps`, from 0: what the stages count with. */
export type LampIndex = number
/** A part's place in `song.parts`, from 0. */
export type PartIndex = number
