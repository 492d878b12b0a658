import { fileURLToPath } from 'node:url'
import {
  app,
  BrowserWindow,
  dialog,
  ipcMain,
  Menu,
  MessageChannelMain,
  powerMonitor,
  powerSaveBlocker,
  protocol,
  session,
  utilityProcess,
} from 'electron'
import { Desktop } from './desktop.ts'

/** Everything lies beside the built main process. */
const beside = (name: string): string => fileURLToPath(new URL(`./${name}`, import.meta.url))

new Desktop({
  electron: {
    app,
    BrowserWindow,
    MessageChannelMain,
    Menu,
    dialog,
    ipcMain,
    powerMonitor,
    powerSaveBlocker,
    protocol,
    session,
    utilityProcess,
  },
  paths: { host: beside('host.js'), preload: beside('preload.cjs'), screens: beside('screens') },
  words: process.argv.slice(app.isPackaged ? 1 : 2),
  folder: process.cwd(),
  platform: process.platform,
}).start()
