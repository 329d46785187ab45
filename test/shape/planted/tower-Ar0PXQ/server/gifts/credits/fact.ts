import type { Fact as Fact0 } from '../../gifts/parcels/fact'
import type { Fact as Fact1 } from '../../sale/simulation/fact'
export type Fact = Fact0
