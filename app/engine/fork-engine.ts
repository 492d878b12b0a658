import { fork } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import type { EngineProcess } from './supervisor.ts'

/** The built engine lies beside the built command. */
const ENGINE = fileURLToPath(new URL('./engine.js', import.meta.url))

/** Starts an engine in a process of its own. */
export function forkEngine(): EngineProcess {
  // Within the desktop app the program that runs us is the app itself; told so, it runs the engine as plain Node does.
  const env = process.versions.electron ? { ...process.env, ELECTRON_RUN_AS_NODE: '1' } : process.env
  const child = fork(ENGINE, [], { stdio: ['ignore', 'inherit', 'inherit', 'ipc'], env })
  return {
    send: (message) => {
      if (child.connected) child.send(message, () => {})
    },
    onMessage: (call) => void child.on('message', call),
    onExit(call) {
      child.on('exit', (code, signal) => call(signal ?? `code ${code}`))
      child.on('error', (error) => call(error.message))
    },
    kill: () => void child.kill('SIGKILL'),
  }
}
