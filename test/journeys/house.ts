import { createServer } from 'node:http'
import { serve } from '#house/programs/serve'
import { wallClock } from '#runtime/queue/stamp'
import { readConfig } from '#runtime/settings/config'

/**
 * The house as it is served, but for its clock: it begins at BEGINS_AT, and a journey may move it on, so that it need
 * not wait for a closing. POST /pass?ms=60000 on the port after the house's own does that; any request tells the time.
 */
async function main(): Promise<void> {
  const config = readConfig()
  const wall = wallClock()
  let ahead = Number(process.env.BEGINS_AT) - wall.now()
  const now = () => wall.now() + ahead
  const { house, close } = await serve({ config, clock: { now }, wall: now, isDev: false })
  const control = createServer((request, response) => {
    const url = new URL(request.url ?? '/', 'http://control')
    if (url.pathname === '/pass') {
      ahead += Number(url.searchParams.get('ms'))
      house.wake()
    }
    response.end(String(house.clock.now()))
  })
  control.listen(config.port + 1, '127.0.0.1')
  process.once('SIGTERM', () => {
    control.close()
    close().then(() => process.exit(0))
  })
}

main().catch((reason) => {
  process.stderr.write(`${reason instanceof Error ? reason.stack : String(reason)}\n`)
  process.exit(1)
})
