import type { Fact as Fact0 } from '../../doors/trpc/fact'
import type { Fact as Fact1 } from '../../end/close-out/fact'
export type Fact = Fact0
