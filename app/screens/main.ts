import '@fontsource-variable/atkinson-hyperlegible-next/wght.css'
import '@fontsource-variable/literata/wght.css'
import '@fontsource-variable/literata/wght-italic.css'
import { z } from 'zod'

// The page's content policy forbids making code from text, which zod would do to be faster.
z.config({ jitless: true })
await import('./elements/app.ts')
