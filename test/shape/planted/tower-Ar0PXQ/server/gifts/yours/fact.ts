import type { Fact as Fact0 } from '../../money/journal/fact'
import type { Fact as Fact1 } from '../../gifts/outcome/fact'
export type Fact = Fact0
