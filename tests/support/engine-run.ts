import { Engine } from '../../app/engine/engine.ts'
import type { FromEngine } from '../../src/contract/from-engine.ts'
import type { ToEngineInput } from '../../src/contract/to-engine.ts'
import type { Show } from '../../src/domain/show.ts'
import { MemoryMachine } from './memory-machine.ts'

/** An engine on a machine of stand-ins, asked as over a channel, and everything it said. */
export function startEngine(show: Show) {
  const machine = new MemoryMachine(show)
  const said: FromEngine[] = []
  let hear: (message: unknown) => void = () => {}
  let over = (): void => {}
  let ended = 0
  const engine = new Engine(
    {
      // As it would arrive: what is said is plain data.
      send: (message) => said.push(JSON.parse(JSON.stringify(message)) as FromEngine),
      receive: (call) => (hear = call),
      closed: (call) => (over = call),
    },
    machine,
    () => ended++,
  )
  const ask = (message: ToEngineInput): void => hear(message)
  const of = <Type extends FromEngine['type']>(type: Type) =>
    said.filter((message): message is Extract<FromEngine, { type: Type }> => message.type === type)
  return { engine, machine, said, ask, of, hangUp: () => over(), ended: () => ended }
}
