import type { Fact as Fact0 } from '../../air/rehearsal/fact'
import type { Fact as Fact1 } from '../../air/telling/fact'
export type Fact = Fact0
