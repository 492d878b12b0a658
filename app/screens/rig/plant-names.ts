import { newId } from '../sheet/new-id.ts'

/** Plants to call new lamps by. */
const PLANTS = (
  'Fern Moss Reed Sedge Ivy Palm Lotus Vine Orchid Sundew Clover Thistle Heather Juniper Mallow Yarrow Bracken ' +
  'Laurel Myrtle Nettle Poppy Rowan Sorrel Tansy Willow Aloe Bamboo Cedar Fig Hazel Iris Teasel'
).split(' ')

interface Named {
  readonly id: string
  readonly name: string
}

/** A plant that no lamp is called by yet; after all of them, again with a number. */
export function freePlant(lamps: readonly Named[]): string {
  const taken = new Set(lamps.flatMap(({ id, name }) => [id.toLowerCase(), name.toLowerCase()]))
  for (let round = 1; ; round++) {
    const names = PLANTS.map((plant) => (round === 1 ? plant : `${plant} ${round}`))
    const free = names.find((name) => !taken.has(name.toLowerCase()) && !taken.has(newId(name, [])))
    if (free !== undefined) return free
  }
}

/** An id made of `title`; capitals make no difference between ids. */
export function freeId(title: string, taken: readonly { readonly id: string }[]): string {
  return newId(
    title,
    taken.map(({ id }) => id.normalize('NFC').toLowerCase()),
  )
}
