import { noteAlive } from '#runtime/queue/alive'
import { openStage, type Stage } from '#test/stage'

/** Puts the house down as a power cut would, now, and opens it again some time later on what is on the disk. */
export async function reopen(stage: Stage, downFor: number): Promise<Stage> {
  await stage.command(noteAlive)
  const { dir, clock } = stage
  const now = clock.now() + downFor
  stage.house.close()
  return openStage({ now, dir })
}

/** The same, and it has lived since: its first command, which might be any, has run. */
export async function restart(stage: Stage, downFor: number): Promise<Stage> {
  const opened = await reopen(stage, downFor)
  await opened.command(() => {})
  return opened
}
