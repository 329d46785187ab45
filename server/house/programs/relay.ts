import { readConfig } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'
import { logWhatIsPrinted } from '#runtime/settings/printed'
import { endOnSignal, endUnopened, stopOnSignal } from './ending'
import { serveRelay } from './serve-relay'

// The entry of a relay: dist/relay.mjs. It carries a house's screens on a machine of its own.
async function main(): Promise<void> {
  endOnSignal()
  const config = readConfig()
  logWhatIsPrinted(openLog(config.logLevel))
  stopOnSignal(await serveRelay(config))
}

main().catch(endUnopened)
