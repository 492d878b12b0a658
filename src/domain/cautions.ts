/** What the cautions are about. Each has its say wherever cautions are shown. */
export type CautionSubject =
  'photosensitivity' | 'wiring' | 'fusing' | 'heat' | 'eyes' | 'hearing' | 'codes' | 'program'

export interface Caution {
  readonly subject: CautionSubject
  /** A sentence, for where there is little room: the front page of the manual, the end of the checks. */
  readonly short: string
  /** A paragraph, for where it is to be read: before real lamps are lit, on the printed sheet, on the page for the venue. */
  readonly text: string
}

/** The one place where cautions are written. */
export const EVERY_CAUTION: readonly Caution[] = [
  {
    subject: 'photosensitivity',
    short:
      'Flashing light can trigger photosensitive seizures, in people who do not know that they have them.',
    text:
      'Flashing light can trigger photosensitive seizures, also in people who never had one and do not know that they can. Lamps that sound low notes flash slowly ' +
      'enough to be seen. Tell audience and crew beforehand that the light flashes, in words they read before they come in, let people leave easily, and know who ' +
      'darkens the lamps when somebody is unwell: the Dark key does it at once.',
  },
  {
    subject: 'heat',
    short: 'Lamps and supplies get hot, and can burn and start fires.',
    text:
      'Lamps and supplies get hot, can burn and can start a fire. Keep lamps away from cloth, paper, leaves and hands, leave them room to cool, and do not leave them lit ' +
      'alone. What a lamp is said to bear in a show is what somebody typed: Lanthorn counts with it and measures nothing.',
  },
  {
    subject: 'wiring',
    short:
      'Wiring that is too thin, loose or open can burn and kill; have it done or looked at by somebody licensed to.',
    text:
      'Wiring has to carry what all lamps of a supply draw at once, be fixed and strained nowhere, and be out of the way of feet and water. Mains wiring, earthing and ' +
      'whatever else of it a local code reserves belong to somebody licensed to do it.',
  },
  {
    subject: 'fusing',
    short:
      'Every supply line needs a fuse that fits the thinnest wire behind it: what Lanthorn counts is no fuse.',
    text:
      'A fuse that fits the thinnest wire behind it belongs in every supply line, close to the supply. A limit in a show is a sum that a program does with figures somebody ' +
      'typed; it opens no circuit.',
  },
  {
    subject: 'eyes',
    short: 'A lit lamp at close range can hurt eyes, also one that looks dim.',
    text:
      'A lit lamp can hurt eyes at close range, and a lamp on for a small part of the time is as bright in that part as ever. Point lamps away from faces, and do not look ' +
      'into one to see whether it works.',
  },
  {
    subject: 'hearing',
    short: 'The sound can be loud and come without warning, and loud sound damages hearing.',
    text: 'What a light pickup hears can be loud, and comes without warning. Start with the sound turned down, and protect your hearing and that of others.',
  },
  {
    subject: 'codes',
    short: 'Follow your local codes and the judgement of licensed practice, and warn your audience.',
    text:
      'Local codes on electricity, fire, crowds, sound and flashing light come before anything that Lanthorn says or counts; so does the judgement of people licensed and ' +
      'practised in them. Have them look at the rig before an audience does.',
  },
  {
    subject: 'program',
    short:
      'Lanthorn counts what it can count and says what it does not know; it is not a safety device, and nothing it prints says that a show is safe.',
    text: 'Lanthorn is not a safety device. A program, a cable or a lamp box can fail with lamps lit: keep a switch within reach that takes the power off the lamps by itself.',
  },
]

/** What a person reads before real lamps are lit for the first time, on the printed sheet and on the page for the venue; a paragraph each. */
export const CAUTIONS: readonly string[] = EVERY_CAUTION.map(({ text }) => text)
