import type { Fact as Fact0 } from '../../people/devices/fact'
import type { Fact as Fact1 } from '../../people/people/fact'
export type Fact = Fact0
