import type { Shape } from './shape'

export interface Other {
  shape: Shape | null
}
