import type { Fact as Fact0 } from '../../people/photographs/fact'
import type { Fact as Fact1 } from '../../people/devices/fact'
export type Fact = Fact0
