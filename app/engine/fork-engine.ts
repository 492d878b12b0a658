import { fork } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import type { EngineProcess } from './supervisor.ts'

/** The built engine lies beside the built command. */
const ENGINE = fileURLToPath(new URL('./engine.js', import.meta.url))

/** Starts an engine in a process of its own. */
export function forkEngine(): EngineProcess {
  const child = fork(ENGINE, [], { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] })
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
