import type { CheckFinding } from './finding.ts'
import { placeAt } from './finding.ts'
import { figure } from './listed.ts'
import type { Survey } from './survey.ts'

/** Lamps whose power in the mean is to be held down, and on whose output it cannot. */
export function lampHeatFindings({ show: { rig } }: Survey): CheckFinding[] {
  return rig.lamps.flatMap((lamp, index): CheckFinding[] => {
    const output = rig.outputs.find(({ id }) => id === lamp.output)
    const isDumb = output?.kind === 'midi' && output.dutyController === undefined
    if (!lamp.heat || !isDumb) return []
    const message = `lamp ${lamp.id} is said to bear ${figure(lamp.heat.meanWatts)} W in the mean, and output ${output.id} has no dutyController: no duty is sent there, and none can be held down, whatever is counted. Give the output one, or see to the heat otherwise.`
    return [{ gravity: 'warning', ...placeAt(['rig', 'lamps', index, 'heat']), message }]
  })
}
