// Loaded before the built host: the port that a utility process of the desktop app has to its main process, over the channel of a forked one. What comes before
// somebody listens waits, as there.
import { EventEmitter } from 'node:events'

const port = new EventEmitter()
const waiting = []
const give = () => {
  if (port.listenerCount('message') === 0) return
  for (const data of waiting.splice(0)) port.emit('message', { data, ports: [] })
}
port.postMessage = (message) => process.send(message)
port.on('newListener', () => setImmediate(give))
process.on('message', (data) => {
  waiting.push(data)
  give()
})
process.parentPort = port
