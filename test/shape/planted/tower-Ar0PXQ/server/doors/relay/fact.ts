import type { Fact as Fact0 } from '../../house/open/fact'
import type { Fact as Fact1 } from '../../doors/web/fact'
export type Fact = Fact0
