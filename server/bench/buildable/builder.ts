import type { Workshop } from '#runtime/workers/workers'
import type { BuildAnswer, BuildQuestion } from './build.contract'
import { answerBuild } from './build-solver'

/** Plans what can be built. */
export type Builder = Pick<Workshop<BuildQuestion, BuildAnswer>, 'make' | 'close'>

declare module '#runtime/call/base' {
  interface Opened {
    builder: Builder
  }
}

/** Plans on the thread of whoever asks: for tests. */
export const buildOnThisThread: Builder = { make: answerBuild, close: () => {} }
