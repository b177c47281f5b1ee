/** Questions on a terminal. Where nobody can be asked, what is missing is said with the options that state it. */
import { RefusedError } from "./exit.ts";
import type { Check } from "./new-answers.ts";

export interface Question {
  readonly option: string;
  readonly question: string;
  readonly check: Check;
  /** What an empty answer means. */
  readonly otherwise?: string;
}

export interface Ask {
  /** @throws RefusedError where nobody can be asked, or where the answer is to stop */
  readonly text: (question: Question) => Promise<string>;
  /** `false` where nobody can be asked. */
  readonly confirm: (question: string) => Promise<boolean>;
  readonly show: (text: string) => void;
}

/** @param isSilent nothing is to be asked whatever the terminal */
export async function asker(isSilent: boolean): Promise<Ask> {
  if (isSilent || !process.stdin.isTTY || !process.stderr.isTTY) return NOBODY;
  const prompts = await import("@clack/prompts");
  const output = process.stderr;
  const stopped = (): never => {
    throw new RefusedError("stopped; nothing was written");
  };
  return {
    async text({ question, check, otherwise }) {
      const validate = (text: string | undefined): string | undefined =>
        (text ?? "").trim() === "" && otherwise !== undefined ? undefined : check(text ?? "");
      const given = otherwise === undefined ? {} : { placeholder: otherwise, defaultValue: otherwise };
      const answer = await prompts.text({ message: question, validate, output, ...given });
      return prompts.isCancel(answer) ? stopped() : answer.trim();
    },
    async confirm(question) {
      const answer = await prompts.confirm({ message: question, initialValue: false, output });
      return prompts.isCancel(answer) ? stopped() : answer;
    },
    show: (text) => prompts.log.message(text, { output }),
  };
}

const NOBODY: Ask = {
  async text({ option, otherwise }) {
    if (otherwise !== undefined) return otherwise;
    throw new RefusedError(
      `nobody can be asked here: state --${option}; with --machine, --takes, --makes, --cycle and --count nothing need be asked, as in\n  fillfront new --machine cartoner --takes pouch --makes carton --cycle "2.5 s" --count 8`,
    );
  },
  confirm: async () => false,
  show: () => undefined,
};
