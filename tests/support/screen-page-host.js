// Runs in the page before it: a desktop bridge whose host is the test. `testFirstWords` is put before this text.
const host = {
  asked: [],
  port: undefined,
  say(messages) {
    for (const message of messages) this.port?.postMessage(message)
  },
}
const note = (type) => () => host.asked.push({ type })
Object.assign(window, {
  testHost: host,
  lanthorn: {
    connect() {
      const channel = new MessageChannel()
      host.port = channel.port2
      channel.port2.addEventListener('message', ({ data }) => {
        host.asked.push(data)
        if (data.type === 'enter') host.say(testFirstWords)
      })
      channel.port2.start()
      window.postMessage('lanthorn-host-port', '*', [channel.port1])
    },
    openDialog: note('openDialog'),
    saveDialog: note('saveDialog'),
    openDropped: note('openDropped'),
    onMenu(call) {
      Object.assign(window, { testMenu: call })
    },
  },
})
