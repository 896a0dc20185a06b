/** Setting up and running a command: arguments, help, and the exit code of wrong usage. */

import { Command, CommanderError, Option } from 'commander';
import { EXIT, type ExitCode } from './exit.ts';

/**
 * A command with the habits all of ours share: options may stand anywhere, an unknown option is refused with the
 * nearest known one, and wrong usage is reported through `runCommand` instead of ending the process.
 */
export function createCommand(name: string, description: string): Command {
  return new Command(name)
    .description(description)
    .showSuggestionAfterError()
    .showHelpAfterError(`Try: npm run --silent ${name} -- --help`)
    .configureHelp({ commandUsage: (command) => commandUsage(name, command) })
    .allowExcessArguments(false)
    .exitOverride();
}

function commandUsage(name: string, command: Command): string {
  return `npm run --silent ${name} -- ${command.usage()}`;
}

/** An option that must be one of the given words. */
export function choiceOption(
  flags: string,
  description: string,
  choices: readonly string[],
): Option {
  return new Option(flags, description).choices(choices);
}

/** Thrown inside an action for a wrong value on the command line; `runCommand` prints it and answers exit code 2. */
export class UsageError extends Error {}

/**
 * Runs a command on the arguments after the script's name, sets the process's exit code and lets the output drain.
 * `action` gets the parsed command and answers the exit code.
 */
export function runCommand(
  command: Command,
  args: readonly string[],
  action: (command: Command) => ExitCode,
): void {
  endQuietlyWhenReaderLeaves();
  let exitCode: ExitCode = EXIT.ok;
  command.action(() => {
    exitCode = action(command);
  });
  try {
    command.parse(args, { from: 'user' });
  } catch (error) {
    exitCode = exitCodeOf(error);
  }
  process.exitCode = exitCode;
}

function exitCodeOf(error: unknown): ExitCode {
  if (error instanceof UsageError) {
    process.stderr.write(`error: ${error.message}\n`);
    return EXIT.usage;
  }
  if (!(error instanceof CommanderError)) throw error;
  return error.exitCode === 0 ? EXIT.ok : EXIT.usage;
}

/** `… | head` closes our output early; that is no failure. */
function endQuietlyWhenReaderLeaves(): void {
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(EXIT.ok);
    throw error;
  });
}
