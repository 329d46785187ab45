'use client'

import { keepSound, sound, useSound } from '#app/_ui/told/sound.ts'

/** Kept on this device alone; switching it on lets it be heard once. */
export function SoundSwitch() {
  const isOn = useSound()
  const change = () => {
    keepSound(!isOn)
    if (!isOn) sound()
  }
  return (
    <div className="row">
      <button type="button" className="button-line" aria-pressed={isOn} onClick={change}>
        Sound and vibration
      </button>
      <span role="status" className="small quiet">
        {isOn ? 'On. A page can make a sound once you have tapped it.' : 'Off'}
      </span>
    </div>
  )
}
