import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs'
import { basename, join, resolve } from 'node:path'
import { z } from 'zod'
import { DATABASE } from './house-files'

/** What a copy says of itself. */
export const MANIFEST = 'manifest.json'

/** Who wanted a copy: somebody by a command, the house on the day of the stream, or the house before it changed its database. */
export const MADE_FOR = ['a person', 'the day', 'a step'] as const
export type MadeFor = (typeof MADE_FOR)[number]

// Copies of an earlier program do not say for whom they were made.
const manifestShape = z.object({
  madeAt: z.string().optional(),
  madeFor: z.enum(MADE_FOR).optional(),
  /** The digest of each file, by its path in the copy. */
  files: z
    .record(z.string().regex(/^(tagstrip\.db|(keys|photographs)\/[\w-][\w.-]*)$/), z.string().regex(/^[0-9a-f]{64}$/))
    .refine((files) => DATABASE in files),
})
export type Manifest = z.infer<typeof manifestShape>

/** Throws, in words, where there is none or it is not what was written. */
export function readManifest(copyDir: string): Manifest {
  const file = join(copyDir, MANIFEST)
  if (!existsSync(copyDir))
    throw new Error(`There is no folder ${copyDir}. Name the folder of a copy; npm run backup says where it put it.`)
  if (!statSync(copyDir).isDirectory())
    throw new Error(`${copyDir} is a file. Name the folder of a copy, the one that has ${MANIFEST} in it.`)
  if (isPart(basename(resolve(copyDir))))
    throw new Error(`${copyDir} is a copy that was not finished, or is being made or taken away at this moment. Name one without .part.`)
  if (!existsSync(file)) throw new Error(`${copyDir} is not a copy of a house: it has no ${MANIFEST}.`)
  try {
    return manifestShape.parse(JSON.parse(readFileSync(file, 'utf8')))
  } catch (cause) {
    throw new Error(`The copy is damaged: its ${MANIFEST} is not what was written.`, { cause })
  }
}

export interface Kept extends Manifest {
  dir: string
}

/** The whole copies in a folder, the oldest first. What is no copy, or one that cannot be read, is passed over. */
export function listCopies(intoDir: string): Kept[] {
  if (!existsSync(intoDir)) return []
  return readdirSync(intoDir)
    .filter((name) => !isPart(name))
    .sort()
    .flatMap((name) => {
      const dir = join(intoDir, name)
      try {
        return [{ dir, ...readManifest(dir) }]
      } catch {
        return []
      }
    })
}

const WHEN = /^(\d{4}-\d\d-\d\d)T(\d\d)-(\d\d)-(\d\d)-(\d{3})Z/

/** When the newest whole copy in a data folder was made, by the names that stand there; null where there is none. */
export function newestBackup(dataDir: string): number | null {
  const dir = join(dataDir, 'backups')
  const made = !existsSync(dir)
    ? []
    : readdirSync(dir).flatMap((name) => {
        const parts = isPart(name) ? null : WHEN.exec(name)
        return parts ? [Date.parse(`${parts[1]}T${parts[2]}:${parts[3]}:${parts[4]}.${parts[5]}Z`)] : []
      })
  return made.length === 0 ? null : Math.max(...made)
}

const PART = /^\d{4}-\d\d-\d\dT.*\.part(-(\d+))?$/

/** The name of a copy while it is being made, or taken away. It says by which process. */
export const partOf = (name: string): string => `${name}.part-${process.pid}`

export const isPart = (name: string): boolean => PART.test(name)

/** The process that is at it, or null where the name says none. */
export const processOf = (part: string): number | null => {
  const pid = PART.exec(part)?.[2]
  return pid === undefined ? null : Number(pid)
}
