/** It has no page of its own, so that it never stands between a page and the house. */
export const WORKER_SCOPE = '/me/told'

export const knowsMessages = (): boolean => 'serviceWorker' in navigator && 'PushManager' in window && 'Notification' in window

/** What this browser is told by, where it is. */
export async function findSubscription(): Promise<PushSubscription | null> {
  const worker = await navigator.serviceWorker.getRegistration(WORKER_SCOPE)
  return (await worker?.pushManager.getSubscription()) ?? null
}

/** This browser is told nothing any more: of whoever signs out, and of whoever does not want it. */
export async function stopMessages(): Promise<void> {
  if (knowsMessages()) await (await findSubscription())?.unsubscribe()
}
