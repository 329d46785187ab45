import type { Fact as Fact0 } from '../../end/last-letters/fact'
import type { Fact as Fact1 } from '../../air/rehearsal/fact'
export type Fact = Fact0
