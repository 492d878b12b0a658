import { Command, CommanderError, InvalidArgumentError, Option } from 'commander'
import { Failure, WrongUsage } from './failure.ts'
import type { OpenArguments } from './open-in-browser.ts'
import type { PlayArguments } from './play-command.ts'
import type { RenderArguments } from './render-command.ts'
import type { SheetArguments } from './sheet-command.ts'
import type { TakeArguments } from './count-takes.ts'
import type { TuningArguments } from './tuning-command.ts'
import type { VenueArguments } from './venue-command.ts'

/** Each command is loaded when it is asked for: who opens the screens does not wait for what renders. */
function createProgram(): Command {
  const program = new Command('lanthorn')
    .description('Routes players to lamps: who lights which lamp, at which true frequency.')
    .exitOverride()
    .configureOutput({ outputError: () => {} })
  program
    .command('open', { isDefault: false })
    .description(
      'open a show, the demo where none is named: in the desktop app, or where that cannot be had in a browser on this machine; any of the options asks for the browser',
    )
    .argument('[show]', 'a show file')
    .addOption(rigOption())
    .option(
      '--port <number>',
      'the port to listen on; left out: 4117, or the next one that is free',
      portNumber,
    )
    .option('--remote', "let other devices on this machine's networks in, one for each code that is shown")
    .option('--no-browser', 'only print the address')
    .action(async (show: string | undefined, given: OpenArguments) => {
      const { openCommand } = await import('./open-command.ts')
      await openCommand(show, given)
    })
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
    .action(async (show: string, take: string, given: RenderArguments) => {
      const { renderCommand } = await import('./render-command.ts')
      return renderCommand(show, take, given)
    })
  program
    .command('play')
    .description('play a show live, without screens; d darkens everything, Ctrl-C darkens and ends')
    .argument('<show>', 'a show file')
    .option('--song <id>', 'the song to begin with; the first of the set list where left out')
    .addOption(rigOption().default('real'))
    .option('--json', 'say everything as lines of JSON')
    .action(async (show: string, given: PlayArguments) => {
      const { playCommand } = await import('./play-command.ts')
      await playCommand(show, given)
    })
  program
    .command('ports')
    .description('list the MIDI and serial ports there are')
    .option('--json', 'as one line of JSON')
    .action(async (given: { json?: boolean }) => {
      const { portsCommand } = await import('./ports-command.ts')
      await portsCommand(given)
    })
  program
    .command('check')
    .description('say everything that would go wrong on stage, and what is counted in the takes of its songs')
    .argument('<show>', 'a show file')
    .addOption(takeOption())
    .addOption(songOfTakeOption())
    .action(async (show: string, given: TakeArguments) => {
      const { checkCommand } = await import('./check-command.ts')
      await checkCommand(show, given)
    })
  program
    .command('venue')
    .description(
      'write what a venue is told: figures of the show and of its takes, notices, cautions, who darkens; as a page to be printed',
    )
    .argument('<show>', 'a show file')
    .requiredOption('--out <file>', 'the HTML file to write')
    .option('--date <date>', 'the day on the page, as 2031-02-28; left out: today', calendarDate)
    .addOption(takeOption())
    .addOption(songOfTakeOption())
    .action(async (show: string, given: VenueArguments) => {
      const { venueCommand } = await import('./venue-command.ts')
      await venueCommand(show, given)
    })
  program
    .command('sheet')
    .description('write the set list and a sheet for each song as a page to be printed')
    .argument('<show>', 'a show file')
    .requiredOption('--out <file>', 'the HTML file to write')
    .action(async (show: string, given: SheetArguments) => {
      const { sheetCommand } = await import('./sheet-command.ts')
      sheetCommand(show, given)
    })
  program
    .command('tuning')
    .description(
      'say which pitch every key has, and what lamps really make of it; with --chord, intervals and beats',
    )
    .argument('<file>', 'a show file, or a scale file (.scl)')
    .option('--map <file>', 'the key map (.kbm) of a scale file')
    .option('--song <id>', 'this song alone')
    .option('--part <id>', 'this part alone')
    .option('--lamp <id>', 'this lamp alone')
    .option('--chord <keys>', 'keys played together, such as 60,64,67', chordKeys)
    .option('--json', 'as lines of JSON')
    .action(async (file: string, given: TuningArguments) => {
      const { tuningCommand } = await import('./tuning-command.ts')
      tuningCommand(file, given)
    })
  return program
}

function chordKeys(text: string): number[] {
  const keys = text.split(',').map((one) => (/^\s*\d{1,3}\s*$/.test(one) ? Number(one) : -1))
  if (keys.some((key) => key < 0 || key > 127))
    throw new InvalidArgumentError('keys are numbers from 0 to 127 with commas between, such as 60,64,67')
  return keys
}

function takeOption(): Option {
  return new Option(
    '--take <file>',
    'a Standard MIDI File to count besides those that the show names; may be repeated',
  )
    .argParser(collect)
    .default([], 'none')
}

function songOfTakeOption(): Option {
  return new Option('--song <id>', 'the song that --take is of; the first of the set list where left out')
}

function calendarDate(text: string): string {
  const date = new Date(`${text}T00:00:00Z`)
  if (!/^\d{4}-\d\d-\d\d$/.test(text) || Number.isNaN(date.getTime()) || !date.toISOString().startsWith(text))
    throw new InvalidArgumentError('a date is year-month-day, such as 2031-02-28')
  return text
}

function rigOption(): Option {
  return new Option('--rig <kind>', 'virtual: lamp boxes in memory in place of the outputs').choices([
    'real',
    'virtual',
  ])
}

function portNumber(text: string): number {
  const port = Number(text)
  if (!/^\d+$/.test(text) || port > 65_535) {
    throw new InvalidArgumentError('a port is a number from 1 to 65535, or 0 for any that is free')
  }
  return port
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
      process.stderr.write(`${error.message}\nTry lanthorn ${words[0] ?? ''} --help\n`)
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
