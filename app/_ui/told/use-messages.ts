'use client'

import { useCallback, useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { Unable } from '#app/_trpc/use-command.ts'
import { tailOf } from '#people/devices/devices.contract'
import { findSubscription, knowsMessages, WORKER_SCOPE } from './this-browser'
import { whyNoMessages } from './where-messages-work.rules'

const WORKER = '/told-worker.js'
interface Messages {
  /** Why there can be none here; null where there can. */
  whyNot: string | null
  /** The end of the address at which this browser is told; null while it is not. */
  tail: string | null
}

/** Whether this browser is told by messages; undefined until it has been looked at. */
export function useMessages({ publicUrl, houseKey }: { publicUrl: string; houseKey: string }) {
  const [messages, setMessages] = useState<Messages>()
  const look = useCallback(async () => {
    const knows = knowsMessages()
    const permission = knows ? Notification.permission : 'default'
    const whyNot = whyNoMessages({
      isSecure: window.isSecureContext,
      knowsMessages: knows,
      origin: window.location.origin,
      publicUrl,
      permission,
    })
    const subscription = whyNot === null ? await findSubscription() : null
    setMessages({ whyNot, tail: subscription && tailOf(subscription.endpoint) })
  }, [publicUrl])
  useEffect(() => {
    look().catch(() =>
      setMessages({ whyNot: 'This browser could not be asked whether it may show messages. You are told by email.', tail: null }),
    )
  }, [look])

  /** Asks the reader, then the browser, then tells the house. */
  const switchOn = async () => {
    if ((await Notification.requestPermission()) !== 'granted') {
      await look()
      throw new Unable('Your browser does not show messages from this page. You can allow them in its settings for this page.')
    }
    const subscription = await subscribe(houseKey)
    const { endpoint, keys } = subscription.toJSON()
    if (!endpoint || !keys?.p256dh || !keys.auth) throw new Unable('This browser gave no keys for messages. You are told by email.')
    await api.told.addDevice.mutate({ endpoint, p256dh: keys.p256dh, auth: keys.auth, key: houseKey })
    await look()
    return true
  }

  return { messages, look, switchOn }
}

async function subscribe(houseKey: string): Promise<PushSubscription> {
  try {
    const worker = await navigator.serviceWorker.register(WORKER, { scope: WORKER_SCOPE })
    // A subscription for another key of the house takes nothing any more.
    await (await worker.pushManager.getSubscription())?.unsubscribe()
    await active(worker)
    return await worker.pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: houseKey })
  } catch {
    throw new Unable('The message service of this browser could not be reached. Try again later; you are told by email meanwhile.')
  }
}

/** Waits until the worker runs that will show the messages. */
const active = (worker: ServiceWorkerRegistration): Promise<void> =>
  new Promise((resolve) => {
    const starting = worker.installing ?? worker.waiting
    if (worker.active || !starting) return resolve()
    starting.addEventListener('statechange', () => starting.state === 'activated' && resolve())
  })
