import { join } from 'node:path'
import { parentPort, workerData } from 'node:worker_threads'
import Database from 'better-sqlite3'
import { drizzle } from 'drizzle-orm/better-sqlite3'
import * as schema from '#db/schema/index'
import type { MadePage, PageOrder } from '#doors/pages/made-page'
import { makePage } from '#doors/pages/make-page'
import { createCaller } from '#doors/trpc/root'
import { giveSlot } from '#doors/trpc/slot'
import { looksAt } from '#doors/web/looking-at'
import type { Instant } from '#kernel/instant'
import { playerOrigin } from '#people/campaign/campaign.service'
import type { Context } from '#runtime/call/base'
import { DATABASE } from '#runtime/disk/house-files'
import { openSealing } from '#runtime/disk/keys'
import type { Keys, Sight } from '#runtime/queue/turn'
import { openLog } from '#runtime/settings/log'
import { logTheConsole } from '#runtime/settings/printed'
import type { Delivery, Order } from '#runtime/workers/workers'

/** What of the house this thread is given: enough to read what everybody may see. */
export interface PageWorkerParts {
  dataDir: string
  publicUrl: string
  isDemo: boolean
  /** The public halves of the house's keys. */
  jwks: ReturnType<Keys['jwks']>
  root: string
  logLevel: string
}

// The entry of the thread that makes the pages which are the same for everybody: dist/page-worker.mjs. It reads the database by a
// connection of its own, so what was committed before an order came stands in the page.
const { dataDir, publicUrl, isDemo, jwks, root, logLevel } = workerData as PageWorkerParts
logTheConsole(openLog(logLevel))
let now: Instant = 0
let trouble: string | null = null

const signsNothing = (): never => {
  throw new Error('Whoever makes pages signs nothing.')
}

function openSight(): () => Sight {
  const handle = new Database(join(dataDir, DATABASE), { readonly: true, fileMustExist: true })
  const db = drizzle(handle, { schema })
  const keys: Keys = { ...openSealing(join(dataDir, 'keys')), kid: '', jwks: () => jwks, sign: signsNothing }
  return () => ({ db, now, publicUrl, keys })
}

/** Nobody in particular, who may read. A page that asks for more cannot be made here, and is made for whoever asks for it. */
const nobodyWith = (sight: () => Sight) =>
  ({
    actor: null,
    session: null,
    isDemo,
    sight,
    cookies: '',
    address: '',
    unnamedProxy: { found: () => {}, isThere: () => false },
    openFiles: { limit: null, mostConnections: 0, hasRoom: () => true, wasShort: () => false },
    command: signsNothing,
    lookAt: looksAt(sight, signsNothing, () => ''),
  }) as unknown as Context

const sight = openSight()

async function openPages() {
  const caller = createCaller(nobodyWith(sight))
  giveSlot({ callerFor: async () => caller, now: () => now, trouble: () => trouble, publicUrl })
  const { default: next } = await import('next')
  const app = next({ dev: false, dir: root })
  await app.prepare()
  return app.getRequestHandler()
}

const opened = openPages()

parentPort?.on('message', async ({ id, content }: Order<PageOrder>) => {
  parentPort?.postMessage(await deliver(id, content))
})

async function deliver(id: number, { path, now: at, trouble: told }: PageOrder): Promise<Delivery<MadePage | null>> {
  try {
    const pages = await opened
    now = Math.max(now, at)
    trouble = told
    return { id, product: await makePage(pages, { path, publicUrl, player: playerOrigin(sight()) }) }
  } catch (reason) {
    return { id, failed: reason instanceof Error ? (reason.stack ?? reason.message) : String(reason) }
  }
}
