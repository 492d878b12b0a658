/** What a person reads before real lamps are lit for the first time, and on the printed sheet; a paragraph each. */
export const CAUTIONS: readonly string[] = [
  'Flashing light can trigger photosensitive seizures, also in people who never had one and do not know that they can. Lamps that sound low notes flash slowly ' +
    'enough to be seen. Tell audience and crew beforehand that the light flashes, in words they read before they come in, let people leave easily, and know who ' +
    'darkens the lamps when somebody is unwell: the Dark key does it at once.',
  'Lamps, wiring and supplies get hot and can start a fire. Keep lamps away from cloth, paper, leaves and hands, leave them room to cool, and do not leave them lit ' +
    'alone. The figures of a supply in a show are what somebody typed: Lanthorn counts with them and measures nothing. A fuse that fits belongs in every supply line, ' +
    'and mains wiring belongs to somebody licensed to do it.',
  'A lit lamp can hurt eyes at close range, and a lamp on for a small part of the time is as bright in that part as ever. Point lamps away from faces, and do not look ' +
    'into one to see whether it works.',
  'What a light pickup hears can be loud, and comes without warning. Start with the sound turned down, and protect your hearing and that of others.',
  'Local codes on electricity, fire, crowds and flashing light come before anything that Lanthorn says or counts; so does the judgement of people licensed and ' +
    'practised in them. Have them look at the rig before an audience does.',
  'Lanthorn is not a safety device. A program, a cable or a lamp box can fail with lamps lit: keep a switch within reach that takes the power off the lamps by itself.',
]
