import { initTRPC, TRPCError } from '@trpc/server'
import { ZodError } from 'zod'
import { type FieldWords, Refusal, type RefusalCode } from '#kernel/refusal'
import type { Role } from '#kernel/role'
import type { OpenFiles } from '../live/open-files'
import type { Actor, Sight, Turn } from '../queue/turn'
import { noteEvent } from '../settings/events'
import type { Log } from '../settings/log'
import type { FloodLimit, Floods } from './flood'
import { issueWords } from './issue-words'
import { isConfirmed, type Session } from './session'
import type { UnnamedProxy } from './unnamed-proxy'

/**
 * What stays open as long as the house does, and is handed to every procedure. The ground names its own part only. A room
 * that opens something for its own router (a planner, a packer) adds it beside where that is defined:
 *
 *     declare module '#runtime/call/base' {
 *       interface Opened { planner: Planner }
 *     }
 *
 * So the ground knows none of the rooms above it, and the compiler still asks for every part where a house is opened and
 * where a procedure is called. What a room adds is for that room's router: to the compiler it is visible everywhere.
 */
export interface Opened {
  isDemo: boolean
  log: Log
  floods: Floods
  unnamedProxy: UnnamedProxy
  openFiles: OpenFiles
  sight(): Sight
}

/** What every procedure is given: who asks, how to read, how to command. */
export interface Context extends Opened {
  actor: Actor | null
  /** The session that the actor calls under; null for a visitor. */
  session: Session | null
  /** The visitor's browser in words, as it stands in the list of sessions. */
  device(): string
  /** The visitor's address, for limits only. */
  address: string
  /** The random value that this browser keeps in a cookie of its own, made at the first asking; binds sign-in codes to it. */
  browser(): string
  setCookie(value: string): void
  cookies: string
  command<T>(work: (turn: Turn) => T): Promise<T>
  /** How a call reads and commands that is about an earlier campaign, by what it names or by where the staff are at work; null for the present one. */
  lookAt(named: unknown, isForStaff: boolean): Pick<Context, 'sight' | 'command'> | null
}

/** What a procedure is given that asks who calls: both are there. */
interface SignedInContext {
  actor: Actor
  session: Session
}

const STATUS = {
  'not-signed-in': 'UNAUTHORIZED',
  'confirm-first': 'PRECONDITION_REQUIRED',
  'not-yours-to-do': 'FORBIDDEN',
  'not-found': 'NOT_FOUND',
  'bad-input': 'BAD_REQUEST',
  conflict: 'CONFLICT',
  'too-early': 'PRECONDITION_FAILED',
  'too-late': 'PRECONDITION_FAILED',
  'too-many': 'TOO_MANY_REQUESTS',
  'too-large': 'PAYLOAD_TOO_LARGE',
  'gate-closed': 'PRECONDITION_FAILED',
  'on-hold': 'PRECONDITION_FAILED',
  'no-room': 'SERVICE_UNAVAILABLE',
  'file-held': 'SERVICE_UNAVAILABLE',
  unconfirmed: 'SERVICE_UNAVAILABLE',
} as const satisfies Record<RefusalCode, TRPCError['code']>

/** What a person is told: the words, and those that belong beside a field. */
export interface RefusalShape {
  refusal: RefusalCode | 'fault'
  words: string
  fields: FieldWords
}

const OURS = 'Something went wrong on our side. Nothing was changed. Try again; if it happens again, tell the maker what time it was.'

function refusalOf(error: TRPCError): RefusalShape {
  const { cause } = error
  if (cause instanceof Refusal) return { refusal: cause.code, words: cause.message, fields: cause.fields }
  if (cause instanceof ZodError) {
    const fields = issueWords(cause)
    return { refusal: 'bad-input', words: Object.values(fields)[0] ?? 'Check what you wrote.', fields }
  }
  if (error.code === 'INTERNAL_SERVER_ERROR') return { refusal: 'fault', words: OURS, fields: {} }
  return { refusal: 'bad-input', words: 'This request cannot be understood. Reload the page and try again.', fields: {} }
}

/** Who of the staff may call it, for whoever has to know before its input is read. */
export interface CallMeta {
  roles?: readonly Role[]
}

const t = initTRPC
  .context<Context>()
  .meta<CallMeta>()
  .create({
    isDev: false,
    errorFormatter: ({ shape, error }) => {
      const { code, httpStatus } = shape.data
      const told = refusalOf(error)
      return { message: told.words, code: shape.code, data: { code, httpStatus, ...told } }
    },
  })

/** Of refusals those that say who may do what, and how often, are worth a line; a slip of the hand is not. */
function noteRefusal({ log, address, actor }: Context, code: RefusalCode, path: string): void {
  const by = actor?.personId
  if (code === 'too-many') noteEvent(log, 'limit reached', { address, path, by })
  else if (code === 'not-signed-in' || code === 'not-yours-to-do' || code === 'confirm-first')
    noteEvent(log, 'refused', { address, path, code, by, role: actor?.role })
}

function refused(ctx: Context, cause: Refusal, path: string): TRPCError {
  noteRefusal(ctx, cause.code, path)
  return new TRPCError({ code: STATUS[cause.code], message: cause.message, cause })
}

/** How a call reads that names something of an earlier campaign; null for any other. */
function lookedAt(ctx: Context, named: unknown, path: string, meta: CallMeta | undefined) {
  try {
    return ctx.lookAt(named, meta?.roles !== undefined)
  } catch (reason) {
    throw reason instanceof Refusal ? refused(ctx, reason, path) : reason
  }
}

/** Refusals leave the house with their own HTTP status; faults are logged with a reference and told without detail. */
const translated = t.procedure.use(async ({ ctx, next, path, meta, getRawInput }) => {
  const earlier = lookedAt(ctx, await getRawInput(), path, meta)
  const result = await (earlier ? (next({ ctx: earlier }) as unknown as ReturnType<typeof next>) : next())
  if (result.ok) return result
  const { cause } = result.error
  if (cause instanceof Refusal) throw refused(ctx, cause, path)
  if (result.error.code === 'INTERNAL_SERVER_ERROR') ctx.log.error({ err: cause ?? result.error, path }, 'a procedure failed')
  return result
})

export const router = t.router
export const callerOf = t.createCallerFactory

export const anyone = translated

function mustNotFlood({ floods, address, sight }: Context, limit: FloodLimit): void {
  const wait = floods.admit(limit, address, sight().now)
  if (wait !== null) throw new Refusal('too-many', `${limit.words} Try again in ${wait === 1 ? 'a minute' : `${wait} minutes`}.`)
}

/** For anybody, but not faster than this: what comes too fast is turned away before its input is read or the house is asked. */
export const limited = (limit: FloodLimit) =>
  translated.use(({ ctx, next }) => {
    mustNotFlood(ctx, limit)
    return next()
  })

// A procedure behind these knows who asks. The context is handed on as it is: for one changed key the library would copy
// all of it, key by key, at every bid.
export const signedIn = translated.use(({ ctx, next }) => {
  if (!ctx.actor || !ctx.session) throw new Refusal('not-signed-in', 'Sign in first; we email you a code.')
  return next() as unknown as ReturnType<typeof next<SignedInContext>>
})

export const staff = (...roles: [Role, ...Role[]]) =>
  translated.meta({ roles }).use(({ ctx, next }) => {
    if (!ctx.actor || !ctx.session) throw new Refusal('not-signed-in', 'Sign in first; we email you a code.')
    if (!roles.includes(ctx.actor.role)) throw new Refusal('not-yours-to-do', `This is done by the ${roles.join(' or the ')}.`)
    return next() as unknown as ReturnType<typeof next<SignedInContext>>
  })

/** For whoever is signed in, but not faster than this. */
export const signedInLimited = (limit: FloodLimit) =>
  signedIn.use(({ ctx, next }) => {
    mustNotFlood(ctx, limit)
    return next()
  })

/** Refuses what is sensitive until whoever calls has proved again, a short while ago and in this session, who they are. */
export function mustBeConfirmed({ session }: Pick<Context, 'session'>): void {
  if (!isConfirmed(session, Date.now()))
    throw new Refusal('confirm-first', 'First confirm that it is you, with a passkey or a code by email. Nothing has been changed yet.')
}

/**
 * For these of the staff (for anybody who is signed in where none is named), and only with that proof: a session that was
 * left open on a table must not be enough.
 */
export const confirmed = (...[first, ...others]: Role[]) =>
  (first === undefined ? signedIn : staff(first, ...others)).use(({ ctx, next }) => {
    mustBeConfirmed(ctx)
    return next()
  })
