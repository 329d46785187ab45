import { rootRouter } from '#doors/trpc/root'

type Procedures = Record<string, (call: { getRawInput(): Promise<unknown> }) => Promise<unknown>>

/** Inputs that procedures were really given, by path. */
export type Recorded = Map<string, unknown[]>

const MOST_EACH = 12

/** Does something, such as telling the demo's story, and keeps what procedures took meanwhile: forms as people fill them in. */
export async function recordInputs<T>(work: () => Promise<T>): Promise<{ done: T; recorded: Recorded }> {
  const procedures = rootRouter._def.procedures as unknown as Procedures
  const recorded: Recorded = new Map()
  const before = new Map(Object.entries(procedures))
  for (const [path, procedure] of before) {
    const listening: Procedures[string] = async (call) => {
      const answer = await procedure(call)
      const all = recorded.get(path) ?? []
      recorded.set(path, all)
      // The latest ones: what they name is there still.
      all.push(await call.getRawInput())
      if (all.length > MOST_EACH) all.shift()
      return answer
    }
    procedures[path] = Object.assign(listening, { _def: (procedure as unknown as { _def: object })._def })
  }
  try {
    return { done: await work(), recorded }
  } finally {
    for (const [path, procedure] of before) procedures[path] = procedure
  }
}
