import type { Fact as Fact0 } from '../../people/campaign/fact'
import type { Fact as Fact1 } from '../../runtime/vitals/fact'
export type Fact = Fact0
