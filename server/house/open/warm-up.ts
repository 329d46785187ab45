import { randomUUID } from 'node:crypto'
import type { Server } from 'node:http'
import { duplexPair } from 'node:stream'
import { openInMemory } from '#db/in-memory'
import { CALLS } from '#doors/web/calls'
import { openDoor } from '#doors/web/door'
import { openHeaders } from '#doors/web/headers'
import type { OpenHouse } from '#doors/web/open-house'
import { serverFor } from '#doors/web/server'
import { LIVE_TOPICS } from '#doors/web/topics'
import { SECOND } from '#kernel/instant'
import type { SignIn } from '#people/sign-in/sign-in'
import { openFloods } from '#runtime/call/flood'
import { keysInMemory } from '#runtime/disk/keys'
import { openHub } from '#runtime/live/hub'
import { pooledBytes } from '#runtime/queue/pooled-bytes'
import { openQueue } from '#runtime/queue/queue'
import { reactionsOf } from '#runtime/queue/reactions'
import { stampsFrom } from '#runtime/queue/stamp'
import type { Sight } from '#runtime/queue/turn'
import { openLog } from '#runtime/settings/log'
import { closingsFirst } from '#sale/programme/closings-first'
import { makeLotsThatNeverWere } from './lot-that-never-was'
import type { House } from './parts'
import { openTurns } from './turns'

/** From about so many on the program that takes bids is about as fast as it becomes. */
const ENOUGH = 2_000
const AT_ONCE = 4
/** What is asked of the house meanwhile waits no longer than for one such round, and has at least as much of the processor. */
const LEAST_PAUSE_MS = 5
/** Whoever waited for the house to open is answered first. */
const AFTER_MS = 2_000
/** So often somebody bids too little, and is told so. */
const REFUSED_ONE_IN = 16

export interface WarmUp {
  /** Resolves to how many bids were answered: all, or those up to the first real bid or the end of the house. */
  done: Promise<number>
  stop(): void
}

/**
 * A program runs slowly what it has not run often, so the first thousand bids of a house that was just opened took up to twice as
 * long as later ones. Here the way of a bid is gone often before anybody bids: on lots that never were, by bidders who are
 * nobody, in databases in memory with keys of their own. Nothing of it is kept, nothing goes out, and it ends with the first real bid.
 */
export function warmUp(house: House, { enough = ENOUGH, afterMs = AFTER_MS } = {}): WarmUp {
  let isOver = false
  const stop = () => {
    isOver = true
  }
  house.hearFirst((facts) => {
    if (!isOver && facts.some(({ kind }) => kind === 'lot.bid')) stop()
  })
  const run = async () => {
    await pause(afterMs)
    return isOver ? 0 : bidOften(house, enough, () => isOver)
  }
  const done = run().catch((reason: unknown) => {
    house.log.error({ err: reason }, 'bids on a lot that never was failed; the first real ones are slower for it')
    return 0
  })
  return { done, stop }
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms).unref())

async function bidOften(house: House, enough: number, isOver: () => boolean): Promise<number> {
  // In turns in two houses: what was run in one alone is made for that one, and would begin anew in the real one.
  const two = [await openHouseThatNeverWas(house), await openHouseThatNeverWas(house)]
  let answered = 0
  try {
    for (let round = 0; answered < enough && !isOver(); round++) {
      const began = performance.now()
      answered += (await two[round % two.length]?.bid(AT_ONCE)) ?? 0
      await pause(Math.max(LEAST_PAUSE_MS, performance.now() - began))
    }
  } finally {
    for (const one of two) one.close()
  }
  return answered
}

/** What a bid goes through in a house, beside a house whose it is not. */
async function openHouseThatNeverWas(house: House) {
  const { db, handle } = openInMemory(house.db.$client)
  const keys = keysInMemory()
  const dice = { bytes: pooledBytes(4096), id: () => randomUUID() }
  let now = house.clock.now()
  const clock = { now: () => now }
  const sight = (): Sight => ({ db, now, publicUrl: house.publicUrl, keys })
  const lastSeq = handle.prepare('SELECT coalesce(max(seq), 0) FROM fact').pluck()
  const hub = openHub({ topics: LIVE_TOPICS, sight, seqNow: () => Number(lastSeq.get()) })
  const queue = openQueue({
    handle,
    stamp: stampsFrom(clock),
    turnAt: openTurns({ handle, dice, sight, react: reactionsOf([]) }),
    due: closingsFirst,
    announce: hub.announce,
    full: () => false,
    room: () => true,
    broken: () => {},
  })
  const { lots, bidders } = await queue.run(makeLotsThatNeverWere)
  const signIn: SignIn = {
    ...house.signIn,
    sessionOf: (cookies) => {
      const actor = bidders[Number(cookies)]
      return actor ? { actor, session: { id: cookies, confirmedAt: now }, createdAt: now, usedAt: now } : null
    },
  }
  const own: OpenHouse = { ...house, clock, queue, hub, sight, signIn, floods: openFloods(), log: openLog('silent') }
  const headers = openHeaders({ publicUrl: house.publicUrl, isDev: false })
  const door = openDoor({ house: own, trustedProxy: 'none', isDev: false, pages: async () => {} })
  // It listens nowhere: each bidder has a line to it in memory.
  const server = serverFor(door, headers)
  const lines = bidders.map((_, n) => openLine(server, house.publicUrl, String(n)))
  let sent = 0

  return {
    /** So many bids at once; answers how many were answered as they should be. */
    async bid(count: number): Promise<number> {
      // Nobody bids so often that it is too often.
      now += 10 * SECOND
      const wereRight = await Promise.all(
        Array.from({ length: count }, async () => {
          sent += 1
          const isRefused = sent % REFUSED_ONE_IN === 0
          const body = JSON.stringify({
            lot: lots[sent % lots.length],
            key: `nobody-${String(sent).padStart(16, '0')}`,
            maximum: String(isRefused ? 1 : 5_000 * sent),
          })
          return (await lines[sent % lines.length]?.(body)) === (isRefused ? 400 : 200)
        }),
      )
      hub.present(`lot:${lots[sent % lots.length]}`)
      hub.present('lots')
      return wereRight.filter(Boolean).length
    },
    close() {
      server.closeAllConnections()
      hub.close()
      handle.close()
    },
  }
}

/** Sends a bid as a page of the house does, and answers with the status that it was answered with. */
function openLine(server: Server, publicUrl: string, cookie: string): (body: string) => Promise<number> {
  const [ours, theirs] = duplexPair()
  server.emit('connection', theirs)
  const head = [
    `POST ${CALLS}bidding.place HTTP/1.1`,
    `Host: ${new URL(publicUrl).host}`,
    `Origin: ${publicUrl}`,
    'Content-Type: application/json',
    `Cookie: ${cookie}`,
  ].join('\r\n')
  return (body) =>
    new Promise((resolve) => {
      // The whole answer is written in one go, and there is one for each that is sent.
      ours.once('data', (answer: Buffer) => resolve(Number(answer.toString('latin1', 9, 12))))
      ours.write(`${head}\r\nContent-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`)
    })
}
