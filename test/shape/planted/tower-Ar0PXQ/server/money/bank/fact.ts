import type { Fact as Fact0 } from '../../money/relief/fact'
import type { Fact as Fact1 } from '../../money/books/fact'
export type Fact = Fact0
