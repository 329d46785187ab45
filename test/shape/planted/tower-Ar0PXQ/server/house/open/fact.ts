import type { Fact as Fact0 } from '../../house/rehearsal/fact'
import type { Fact as Fact1 } from '../../doors/relay/fact'
export type Fact = Fact0
