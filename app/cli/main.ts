import { Command, CommanderError, Option } from 'commander'
import { checkCommand } from './check-command.ts'
import { Failure, WrongUsage } from './failure.ts'
import { openCommand } from './open-command.ts'
import type { PlayArguments } from './play-command.ts'
import { playCommand } from './play-command.ts'
import { portsCommand } from './ports-command.ts'
import type { RenderArguments } from './render-command.ts'
import { renderCommand } from './render-command.ts'

function createProgram(): Command {
  const program = new Command('lanthorn')
    .description('Routes players to lamps: who lights which lamp, at which true frequency.')
    .exitOverride()
    .configureOutput({ outputError: () => {} })
  program
    .command('open', { isDefault: false })
    .description(
      'show what a show does with the take beside it, lamps over time (the demo where no show is named)',
    )
    .argument('[show]', 'a show file')
    .action((show?: string) => openCommand(show))
  program
    .command('render')
    .description(
      'play a take into a song, and write what every lamp does, the bytes, the sound and the figures',
    )
    .argument('<show>', 'a show file')
    .argument('<take>', 'a Standard MIDI File')
    .requiredOption('--out <dir>', 'the folder to write to')
    .option('--song <id>', 'the song; the first of the set list where left out')
    .option(
      '--map <track=player>',
      'give a track, by name or number, to a player; may be repeated',
      collect,
      [],
    )
    .action((show: string, take: string, given: RenderArguments) => renderCommand(show, take, given))
  program
    .command('play')
    .description('play a show live, without screens; d darkens everything, Ctrl-C darkens and ends')
    .argument('<show>', 'a show file')
    .option('--song <id>', 'the song to begin with; the first of the set list where left out')
    .addOption(
      new Option('--rig <kind>', 'virtual: lamp boxes in memory in place of the outputs')
        .choices(['real', 'virtual'])
        .default('real'),
    )
    .option('--json', 'say everything as lines of JSON')
    .action((show: string, given: PlayArguments) => playCommand(show, given))
  program
    .command('ports')
    .description('list the MIDI and serial ports there are')
    .option('--json', 'as one line of JSON')
    .action((given: { json?: boolean }) => portsCommand(given))
  program
    .command('check')
    .description('say everything that would go wrong on stage')
    .argument('<show>', 'a show file')
    .action((show: string) => checkCommand(show))
  return program
}

function collect(value: string, before: readonly string[]): string[] {
  return [...before, value]
}

/** Ends with 0 done; 1 the show, take or device is at fault; 2 wrong usage. */
async function main(words: readonly string[]): Promise<number> {
  try {
    await createProgram().parseAsync(words, { from: 'user' })
    return 0
  } catch (error) {
    if (error instanceof CommanderError) {
      if (error.exitCode === 0) return 0
      const isHelp = error.code === 'commander.help'
      process.stderr.write(isHelp ? '' : `${error.message}\nTry lanthorn --help\n`)
      return 2
    }
    if (error instanceof WrongUsage) {
      process.stderr.write(`${error.message}\nTry lanthorn render --help\n`)
      return 2
    }
    if (error instanceof Failure) {
      process.stderr.write(`${error.message}\n`)
      return 1
    }
    throw error
  }
}

// Whoever reads us may stop early, as `head` does; that is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error
  process.exit(0)
})

process.exitCode = await main(process.argv.slice(2))
