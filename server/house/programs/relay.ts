import { readConfig } from '#runtime/settings/config'
import { serveRelay } from './serve-relay'

// The entry of a relay: dist/relay.mjs. It carries a house's screens on a machine of its own.
async function main(): Promise<void> {
  const relay = await serveRelay(readConfig())
  const stop = () => {
    relay.close().then(() => process.exit(0))
    setTimeout(() => process.exit(0), 8_000).unref()
  }
  process.once('SIGTERM', stop)
  process.once('SIGINT', stop)
}

main().catch((reason) => {
  const words = reason instanceof Error ? reason.message : String(reason)
  const isTaken = reason instanceof Error && 'code' in reason && reason.code === 'EADDRINUSE'
  process.stderr.write(`${isTaken ? `${words}\nAnother program listens there. Set PORT to another number.` : words}\n`)
  process.exit(1)
})
