import { Notice } from '../notice'

/** For the staff: limits that are meant for each visitor hold for all of them together. */
export const VisitorsAlike = () => (
  <Notice tone="doubt" title="All visitors look like one">
    <p>
      A proxy seems to stand before this house, and the house was not told of it. One visitor who asks too often keeps all others waiting.
      If the proxy is yours, start the house with TRUSTED_PROXY=x-forwarded-for.
    </p>
  </Notice>
)
