import type { ReactiveController, ReactiveControllerHost, TemplateResult } from 'lit'
import { css, html, nothing } from 'lit'

/** A page as the host made it. */
export interface MadePage {
  readonly html: string
}

/** A page that the host makes when it is asked to, offered as a file: a page of the house opens no other pages, so it is printed from the file. */
export class PageOffer implements ReactiveController {
  readonly #element: ReactiveControllerHost
  /** Where the page can be had in this browser. */
  #address: string | undefined
  #isAsked = false
  /** The page that was there before one was asked for: of a show that may have changed. */
  #before: MadePage | undefined

  constructor(element: ReactiveControllerHost) {
    this.#element = element
    element.addController(this)
  }

  get isMade(): boolean {
    return this.#address !== undefined
  }

  get isAsked(): boolean {
    return this.#isAsked
  }

  /** `page`: the one that there is now. */
  ask(page: MadePage | undefined): void {
    this.#before = page
    this.#isAsked = true
    this.#element.requestUpdate()
  }

  /** The page that there is, each time it may be another; to be called before rendering. */
  see(page: MadePage | undefined): void {
    if (!this.#isAsked || !page || page === this.#before) return
    this.#isAsked = false
    this.#forget()
    this.#address = URL.createObjectURL(new Blob([page.html], { type: 'text/html' }))
  }

  hostDisconnected(): void {
    this.#forget()
    this.#isAsked = false
  }

  /** To save it by that name; nothing while there is none. */
  link(name: string, download: string): TemplateResult | typeof nothing {
    return this.#address === undefined
      ? nothing
      : html`<a class="page" href=${this.#address} download=${download}>Save ${name}</a>`
  }

  /** How to come from the file to paper. */
  advice(): TemplateResult | typeof nothing {
    return this.isMade
      ? html`<p class="soft">
          To print it, save it, open the file in a browser and print from there: this page may not open it
          itself.
        </p>`
      : nothing
  }

  #forget(): void {
    if (this.#address !== undefined) URL.revokeObjectURL(this.#address)
    this.#address = undefined
  }
}

export const pageLink = css`
  a.page {
    display: inline-flex;
    align-items: center;
    min-height: var(--touch);
    padding: 0.35em 0.8em;
    color: inherit;
    background: var(--pane-raised);
    border: 1px solid var(--bar-strong);
    text-underline-offset: 0.2em;
    overflow-wrap: anywhere;
  }
`
