import type { Fact as Fact0 } from '../../doors/relay/fact'
import type { Fact as Fact1 } from '../../doors/pages/fact'
export type Fact = Fact0
