import { join } from 'node:path'
import { openDoor } from '#doors/web/door'
import { openHeaders } from '#doors/web/headers'
import { openLeave } from '#doors/web/leave'
import { serverFor } from '#doors/web/server'
import { openHouse } from '#house/open/house'
import { publishingOf } from '#house/open/machines-of'
import type { HouseParts } from '#house/open/parts'
import { standBy } from '#house/open/stand-by'
import { restoreFrom } from '#house/programs/restore-from'
import { openMachine } from '#runtime/queue/machine'
import { wallClock } from '#runtime/queue/stamp'
import { readConfig } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'

// One of two machines in a process of its own: the served house without its pages. It writes, or stands by. What it has to say
// goes out in lines of JSON. Its wall clock may be wrong by as much as a test likes.
const [, , role, wrongBy = '0', ...flags] = process.argv
const config = readConfig()
const migrationsDir = join(process.cwd(), 'db', 'migrations')
const tell = (body: object) => void process.stdout.write(`${JSON.stringify(body)}\n`)
const log = openLog(process.env.LOG_LEVEL ?? 'silent')

function ended(words: string): void {
  tell({ ended: words })
  setTimeout(() => process.exit(76), 300)
}

async function open(openPublishing: HouseParts['openPublishing']): Promise<true> {
  const machine = openMachine()
  const clock = wallClock(machine, () => Date.now() + Number(wrongBy))
  const house = openHouse({ ...config, migrationsDir, clock, machine, isClockRight: true, log, openPublishing })
  try {
    await house.publishing?.begin()
  } catch (reason) {
    house.close()
    throw reason
  }
  const door = openDoor({
    house,
    trustedProxy: 'x-forwarded-for',
    isDev: false,
    pages: async (_request, response) => void response.writeHead(404).end('a page'),
  })
  const headers = openHeaders({ publicUrl: config.publicUrl, isDev: false })
  const leave = openLeave(door, headers)
  const server = serverFor(leave.door, headers)
  await new Promise<void>((resolve, reject) => server.once('error', reject).listen(config.port, '127.0.0.1', resolve))
  house.startTicking()
  tell({ open: config.port, trouble: house.trouble() })
  process.stdin.on('data', () => {
    tell({ isAlone: house.publishing?.isAlone() ?? false, trouble: house.trouble() })
  })
  process.once('SIGTERM', async () => {
    house.hub.close()
    await leave.begin(server, 2_000)
    await house.publishing?.close()
    house.close()
    process.exit(0)
  })
  return true
}

const started =
  role === 'standby'
    ? standBy({
        config,
        migrationsDir,
        log,
        say: (words) => tell({ said: words }),
        ended,
        fetchCopy: (from) => restoreFrom(from, migrationsDir),
        goOn: open,
      })
    : open(publishingOf(config, { isAlone: flags.includes('alone'), beginsAnew: flags.includes('begin-anew'), ended }))
started.catch((reason) => {
  tell({ failed: reason instanceof Error ? reason.message : String(reason), stack: reason instanceof Error ? reason.stack : '' })
  process.exit(1)
})
