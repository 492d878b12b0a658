/** What the menu of the desktop app asks its window to do. */
export type MenuCommand =
  | 'open'
  | 'save'
  | 'save-as'
  | 'new-show'
  | 'undo'
  | 'redo'
  | 'next-song'
  | 'previous-song'
  | 'stage'
  | 'songs'
  | 'sheet'
  | 'steps'
  | 'tuning'
  | 'rig'
  | 'checks'
  | 'monitor'

/** The one bridge from a window of the desktop app to what is behind it: the page finds it as `lanthorn`. A browser has none. */
export interface DesktopBridge {
  /** Asks for a message port to the host: it comes to the window as a message event whose data is `HOST_PORT`. */
  connect(): void
  /** Asks the person for a show file; what is chosen is opened. */
  openDialog(): void
  /** Asks the person where to save; the show is saved there. */
  saveDialog(): void
  /** A file (a DOM File) that was dropped on the window is opened, if it is one on a disk. */
  openDropped(file: object): void
  /** Calls for each choice in the menu. */
  onMenu(call: (command: MenuCommand) => void): void
}

/** Data of the message event that carries the port. */
export const HOST_PORT = 'lanthorn-host-port'
