import { describe, expect, it } from 'vitest'
import type { HouseView } from '../../../app/screens/controllers/house-view.ts'
import { NOTHING_YET } from '../../../app/screens/controllers/house-view.ts'
import { songPlace } from '../../../app/screens/stage/song-place.ts'
import { CONTRACT_VERSION } from '../../../src/contract/version.ts'
import { demoShow } from '../../support/demo.ts'

/** The demo's set list is dew, mist, growth, dew. */
function playing(song: string, position: number | null, shown = demoShow()): HouseView {
  const show: NonNullable<HouseView['show']> = {
    v: CONTRACT_VERSION,
    type: 'show',
    revision: 1,
    show: shown,
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
      expect(songPlace(view)).toMatchObject({
        words: expect.stringMatching(/^not in the set list/) as string,
        position: null,
        hasNext: true,
      })
    }
  })

  it('passes over songs that are not played tonight, both ways', () => {
    const demo = demoShow()
    const skipping = (...ids: string[]) => ({
      ...demo,
      songs: demo.songs.map((song) => ({ ...song, skip: ids.includes(song.id) })),
    })
    expect(songPlace(playing('dew', 0, skipping('mist')))?.next?.id).toBe('growth')
    expect(songPlace(playing('mist', 1, skipping('dew', 'growth')))).toMatchObject({
      next: undefined,
      hasNext: false,
      hasPrevious: false,
    })
  })

  it('has a variant where its song stands, and says which comes after it', () => {
    expect(songPlace(playing('growth', 2))).toMatchObject({
      words: 'third of four, one of two variants',
      variant: { id: 'growth-bare' },
    })
    expect(songPlace(playing('growth-bare', 2))).toMatchObject({
      song: { id: 'growth-bare' },
      next: { id: 'dew' },
      position: 2,
      variant: { id: 'growth' },
    })
    expect(songPlace(playing('dew', 0))?.variant).toBeUndefined()
  })
})
