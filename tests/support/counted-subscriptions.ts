import { Observable } from 'rxjs'
import { onTestFinished, vi } from 'vitest'

/** Counts the subscriptions there are at a time, those inside of operators too, from here to the end of the test. */
export function countSubscriptions(): () => number {
  let open = 0
  const { subscribe } = Observable.prototype
  const spy = vi.spyOn(Observable.prototype, 'subscribe')
  spy.mockImplementation(function counted(this: Observable<unknown>, ...given) {
    const subscription = subscribe.apply(this, given)
    open++
    subscription.add(() => open--)
    return subscription
  })
  onTestFinished(() => spy.mockRestore())
  return () => open
}
