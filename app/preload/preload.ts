import { contextBridge, ipcRenderer, webUtils } from 'electron'
import type { PageWindow } from './bridge.ts'
import { exposeBridge } from './bridge.ts'

exposeBridge({ contextBridge, ipcRenderer, webUtils }, globalThis as unknown as PageWindow)
