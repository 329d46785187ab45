import type { Fact as Fact0 } from '../paper/fact'
export type Fact = Fact0
