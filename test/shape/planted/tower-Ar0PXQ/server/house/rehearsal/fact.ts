import type { Fact as Fact0 } from '../../house/drill/fact'
import type { Fact as Fact1 } from '../../house/open/fact'
export type Fact = Fact0
