/** A text for people, to be read on paper or copied: sections with a line each for what there is to say. */
export interface Notice {
  readonly heading: string
  readonly sections: readonly NoticeSection[]
}

export interface NoticeSection {
  /** Empty: it needs none. */
  readonly heading: string
  readonly lines: readonly string[]
}

/** The notice as plain text, a line a sentence, no line feed at the end. */
export function noticeText({ heading, sections }: Notice): string {
  const blocks = sections.map(({ heading: head, lines }) =>
    [...(head === '' ? [] : [head]), ...lines].join('\n'),
  )
  return [heading, ...blocks].join('\n\n')
}
