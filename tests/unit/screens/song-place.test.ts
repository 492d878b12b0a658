import { describe, expect, it } from 'vitest'
import type { HouseView } from '../../../app/screens/controllers/house-view.ts'
import { NOTHING_YET } from '../../../app/screens/controllers/house-view.ts'
import { songPlace } from '../../../app/screens/stage/song-place.ts'
import { CONTRACT_VERSION } from '../../../src/contract/version.ts'
import { demoShow } from '../../support/demo.ts'

/** The demo's set list is dew, mist, growth, dew. */
function playing(song: string, position: number | null): HouseView {
  const show: NonNullable<HouseView['show']> = {
    v: CONTRACT_VERSION,
    type: 'show',
    revision: 1,
    show: demoShow(),
    file: null,
    isSaved: true,
    undo: null,
    redo: null,
    rig: 'virtual',
    isDemo: false,
    isLocked: false,
  }
  return { ...NOTHING_YET, show, song: { song, position } }
}

describe('where in the set', () => {
  it('is unknown before there is a show and a song', () => {
    expect(songPlace(NOTHING_YET)).toBeUndefined()
  })

  it('has the next song, and no way back from the first', () => {
    expect(songPlace(playing('dew', 0))).toMatchObject({
      song: { title: 'Dew on the panes' },
      next: { title: 'Mist clock' },
      words: 'first of four',
      hasPrevious: false,
      hasNext: true,
    })
  })

  it('tells a song that stands twice in the set by its place', () => {
    expect(songPlace(playing('dew', 3))).toMatchObject({
      words: 'fourth of four',
      hasPrevious: true,
      hasNext: false,
    })
    expect(songPlace(playing('dew', 3))?.next).toBeUndefined()
  })

  it('says when a song is not in the set, also when the set list was edited a moment ago', () => {
    for (const view of [playing('growth', null), playing('growth', 0), playing('growth', 9)]) {
      expect(songPlace(view)).toMatchObject({ words: 'not in the set list', position: null, hasNext: true })
    }
  })
})
