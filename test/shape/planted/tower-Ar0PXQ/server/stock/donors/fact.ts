import type { Fact as Fact0 } from '../../stock/shelf/fact'
import type { Fact as Fact1 } from '../../stock/catalogue/fact'
export type Fact = Fact0
