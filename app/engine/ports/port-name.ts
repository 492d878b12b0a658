/*
 * Systems put numbers that change with every plugging into the names of ports: a count in front (`2- X`), an address after
 * (`X 20:0`), a client's count (`X-01:out`), an address in brackets (`X [20] (capture)`). Shapes seen in the field; common practice,
 * no source. A number that stands free at the end (`X 2`) is left: it tells the sockets of one device apart.
 */
const COUNT_IN_FRONT = /^\d{1,3} ?- +/u
const ADDRESS_AFTER = / \d{1,3}:\d{1,3}$/u
const CLIENT_COUNT = /^([^:]*[^:\d])-\d\d:/u
const ADDRESS_IN_BRACKETS = / \[\d{1,3}\](?=[ :]|$)/u

/** As shown to people: composed (NFC), without space around it. */
export function shownName(name: string): string {
  return name.normalize('NFC').trim()
}

/** For comparing: as shown, single spaces, without the numbers that change. A name of nothing but such numbers keeps them. */
export function bareName(name: string): string {
  let bare = shownName(name).replace(/\s+/gu, ' ')
  for (;;) {
    const next = bare
      .replace(COUNT_IN_FRONT, '')
      .replace(ADDRESS_AFTER, '')
      .replace(CLIENT_COUNT, '$1:')
      .replace(ADDRESS_IN_BRACKETS, '')
      .trim()
    if (next === bare || next === '') return bare
    bare = next
  }
}

/** Whether the name ends in an address that the system gives anew at each plugging, and never changes in between. */
export function hasAddress(name: string): boolean {
  return ADDRESS_AFTER.test(shownName(name))
}

/** `client:port`: the two parts, bare; of any other name, none. */
export function nameParts(name: string): readonly string[] {
  const bare = bareName(name)
  const colon = bare.indexOf(':')
  return colon < 0 ? [] : [bareName(bare.slice(0, colon)), bareName(bare.slice(colon + 1))]
}
