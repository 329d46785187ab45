import type { Fact as Fact0 } from '../../runtime/standby/fact'
import type { Fact as Fact1 } from '../../runtime/disk/fact'
export type Fact = Fact0
