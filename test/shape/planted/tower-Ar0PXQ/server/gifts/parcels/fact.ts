import type { Fact as Fact0 } from '../../gifts/outcome/fact'
import type { Fact as Fact1 } from '../../gifts/credits/fact'
export type Fact = Fact0
