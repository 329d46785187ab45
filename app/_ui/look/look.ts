/** All that is global: one after another, since later sheets win over earlier ones. Classes of every page are in the middle four. */
import './fonts'
import './tokens.css'
import './base.css'
import './layout.css'
import './words.css'
import './tables.css'
import './buttons.css'
import './print.css'
