import type { Fact as Fact0 } from '../../floor/rack/fact'
import type { Fact as Fact1 } from '../../money/sending/fact'
export type Fact = Fact0
