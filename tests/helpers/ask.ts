/** A call of a program's services as the renderer makes it, its reply typed; a refusal is thrown in words. */

import type { CallName, CallReply, CallRequest } from '../../shared/bridge/index.ts';
import { tellRefusal } from '../../shared/refusal-words.ts';
import type { Program } from '../../src/main/open-program.ts';

export async function ask<Name extends CallName>(
  program: Pick<Program, 'services'>,
  name: Name,
  request: CallRequest<Name>,
  client = 'page',
): Promise<CallReply<Name>> {
  const answer = await program.services(name, request, client);
  if (!answer.ok) throw new Error(`${answer.refusal.code}: ${tellRefusal(answer.refusal).message}`);
  return answer.value as CallReply<Name>;
}
