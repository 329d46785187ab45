import { connect, type Socket } from 'node:net'
import { Worker } from 'node:worker_threads'

// A server that does nothing but write one frame to every socket when told to, on a thread of its own.
const SERVER = `
  const { createServer } = require('node:net')
  const { parentPort, workerData } = require('node:worker_threads')
  const sockets = []
  const frame = Buffer.alloc(workerData.length, 'x')
  const server = createServer({ noDelay: true }, (socket) => {
    socket.on('error', () => {})
    if (sockets.push(socket) === workerData.watchers) parentPort.postMessage('all are here')
  })
  server.listen(0, '127.0.0.1', 1024, () => parentPort.postMessage(server.address().port))
  parentPort.on('message', () => { for (const socket of sockets) socket.write(frame) })
`

/** Milliseconds until the last of so many bare sockets has a frame of `length` bytes, for each of some frames. */
export async function bareFan(watchers: number, length: number, frames = 40): Promise<number[]> {
  const server = new Worker(SERVER, { eval: true, workerData: { watchers, length } })
  const port = await new Promise<number>((resolve) => server.once('message', resolve))
  const page = Buffer.alloc(16_384)
  let left = 0
  let told = () => {}
  const read = (bytes: number) => {
    left -= bytes
    if (left === 0) told()
    return true
  }
  const allAreHere = new Promise((resolve) => server.once('message', resolve))
  const sockets: Socket[] = []
  const open = () =>
    new Promise<void>((resolve) => sockets.push(connect({ port, host: '127.0.0.1', onread: { buffer: page, callback: read } }, resolve)))
  for (let n = 0; n < watchers; n += 100) await Promise.all(Array.from({ length: Math.min(100, watchers - n) }, open))
  await allAreHere
  const waits: number[] = []
  for (let n = 0; n < frames; n++) {
    left = watchers * length
    const began = performance.now()
    await new Promise<void>((resolve) => {
      told = resolve
      server.postMessage('write')
    })
    waits.push(performance.now() - began)
  }
  for (const socket of sockets) socket.destroy()
  await server.terminate()
  return waits
}
