import type { Fact as Fact0 } from '../../gifts/yours/fact'
import type { Fact as Fact1 } from '../../gifts/parcels/fact'
export type Fact = Fact0
