import type { Fact as Fact0 } from '../../house/programs/fact'
import type { Fact as Fact1 } from '../../house/rehearsal/fact'
export type Fact = Fact0
