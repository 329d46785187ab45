import type { Other } from './other-shape'

export interface Shape {
  other: Other | null
}
