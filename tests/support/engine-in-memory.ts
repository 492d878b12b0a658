import { Engine } from '../../app/engine/engine.ts'
import { fromEngine } from '../../src/contract/from-engine.ts'
import type { FromEngine } from '../../src/contract/from-engine.ts'
import type { ToEngineInput } from '../../src/contract/to-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import type { Show } from '../../src/domain/show.ts'
import { MemoryMachine } from './memory-machine.ts'

type Ask = ToEngineInput extends infer One ? (One extends { v: unknown } ? Omit<One, 'v'> : never) : never

/** An engine on a machine of stand-ins, in this process. What it says is checked against the contract. */
export function engineInMemory(show: Show) {
  const machine = new MemoryMachine(show)
  const said: FromEngine[] = []
  let hear: (message: unknown) => void = () => {}
  const engine = new Engine(
    {
      send: (message) => said.push(fromEngine.parse(message)),
      receive: (call) => (hear = call),
      closed: () => {},
    },
    machine,
    () => {},
  )
  return {
    engine,
    machine,
    said,
    ask: (ask: Ask): void => hear({ v: CONTRACT_VERSION, ...ask }),
    of: <Type extends FromEngine['type']>(type: Type) =>
      said.filter((message): message is Extract<FromEngine, { type: Type }> => message.type === type),
  }
}
