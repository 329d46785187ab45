import type { Fact as Fact0 } from '../../doors/web/fact'
import type { Fact as Fact1 } from '../../doors/trpc/fact'
export type Fact = Fact0
