'use strict'
/**
 * MIDI ports that are files, with the interface of `@julusian/midi`: in the folder that LANTHORN_TEST_MIDI names, `in/NAME` and `out/NAME` are ports while
 * they are there. A message is a line: to an input its bytes in hexadecimal, of an output besides when it was sent, in milliseconds. A program that
 * stands still or is killed holds up nobody, as it does a sound server.
 */
const { appendFileSync, existsSync, readFileSync, readdirSync } = require('node:fs')
const { join } = require('node:path')

const EACH_MS = 2

class Port {
  constructor(way) {
    this.folder = join(process.env.LANTHORN_TEST_MIDI, way)
  }
  names() {
    return readdirSync(this.folder).toSorted()
  }
  getPortCount() {
    return this.names().length
  }
  getPortName(place) {
    return this.names()[place] ?? ''
  }
  openPort(place) {
    this.file = join(this.folder, this.names()[place])
    this.opened()
  }
  openVirtualPort() {
    throw new Error('these ports are files')
  }
  opened() {}
}

class Input extends Port {
  constructor() {
    super('in')
    this.hear = () => {}
  }
  ignoreTypes() {}
  on(_event, hear) {
    this.hear = hear
  }
  removeAllListeners() {
    this.hear = () => {}
  }
  lines() {
    return existsSync(this.file) ? readFileSync(this.file, 'utf8').split('\n').slice(0, -1) : []
  }
  opened() {
    this.read = this.lines().length
    this.timer = setInterval(() => {
      const lines = this.lines()
      for (const line of lines.slice(this.read)) this.hear(0, Buffer.from(line, 'hex'))
      this.read = lines.length
    }, EACH_MS)
  }
  destroy() {
    clearInterval(this.timer)
  }
}

class Output extends Port {
  constructor() {
    super('out')
  }
  sendMessage(bytes) {
    if (!existsSync(this.file)) throw new Error(`${this.file} is gone`)
    appendFileSync(this.file, `${Date.now()} ${bytes.toString('hex')}\n`)
  }
  destroy() {}
}

module.exports = { Input, Output }
