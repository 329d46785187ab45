import type { Fact as Fact0 } from '../../money/books/fact'
import type { Fact as Fact1 } from '../../money/forecast/fact'
export type Fact = Fact0
