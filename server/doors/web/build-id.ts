import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

/** Where the pages of this build lie. */
export const nextDir = (root: string): string => join(root, process.env.NEXT_DIST_DIR ?? '.next')

/** The name that this build of the pages has of itself; two machines with the same one serve the same files. */
export function buildIdOf(root: string): string {
  const file = join(nextDir(root), 'BUILD_ID')
  return existsSync(file) ? readFileSync(file, 'utf8').trim() : 'not built'
}
