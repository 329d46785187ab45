import type { Fact as Fact0 } from '../../people/people/fact'
import type { Fact as Fact1 } from '../../people/campaign/fact'
export type Fact = Fact0
