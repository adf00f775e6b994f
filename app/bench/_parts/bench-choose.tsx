"use client";

import { useEffect, useState } from "react";
import { Press } from "#app/_components/controls/press.tsx";
import { Top } from "#app/_components/frame/top.tsx";
import { Mark } from "#app/_components/strip/mark.tsx";
import { STANDING_WORD } from "#app/_components/words/standing-words.ts";
import type { Standing } from "#contract/views.ts";
import css from "./bench.module.css";
import own from "./choose.module.css";
import type { Waiting } from "./device-store.ts";
import { lastSystems } from "./last-systems.ts";
import { QueueLine } from "./queue-line.tsx";
import { useOnline } from "./use-online.ts";
import { useQueue } from "./use-queue.ts";

export interface Choice {
  readonly system: string;
  readonly name: string;
  readonly kind: string;
  readonly standing: Standing;
}

/** Every word typed must be in the name or the short name, wherever. */
export function matching(choices: readonly Choice[], asked: string): readonly Choice[] {
  const words = asked.toLowerCase().split(/\s+/).filter(Boolean);
  return choices.filter(({ system, name }) => {
    const text = `${name} ${system}`.toLowerCase();
    return words.every((word) => text.includes(word));
  });
}

/** Last used on this device first, then by name. */
export function inOrder(choices: readonly Choice[], used: readonly string[]): readonly Choice[] {
  const place = (choice: Choice) => {
    const found = used.indexOf(choice.system);
    return found < 0 ? used.length : found;
  };
  return [...choices].sort((a, b) => place(a) - place(b) || a.name.localeCompare(b.name, "en"));
}

const addressOf = (system: string) => `/bench/${encodeURIComponent(system)}`;

/** Which system is tested: by name or short name, in big targets. */
export function BenchChoose({ choices, user }: { choices: readonly Choice[]; user: string }) {
  const [asked, setAsked] = useState("");
  const [used, setUsed] = useState<readonly string[]>([]);
  const queue = useQueue(user);
  const isOnline = useOnline();
  useEffect(() => setUsed(lastSystems()), []);
  const shown = matching(inOrder(choices, used), asked);
  const reopen = (one: Waiting) => {
    queue
      .reopen(one)
      // Where another draft holds something the form of that system says so.
      .then(() => location.assign(addressOf(one.draft.system)))
      .catch((failed: unknown) => console.error("The test could not be opened again", failed));
  };
  return (
    <>
      <Top here="bench" />
      <main id="main" className={css.page}>
        <h1>Bench</h1>
        <QueueLine queue={queue} user={user} isOnline={isOnline} onReopen={reopen} />
        <search>
          <form
            className={own.search}
            onSubmit={(event) => {
              event.preventDefault();
              const [only] = shown;
              if (only) location.assign(addressOf(only.system));
            }}
          >
            <label htmlFor="bench-search">Which system? Type its name or short name</label>
            <input
              id="bench-search"
              type="search"
              value={asked}
              autoComplete="off"
              enterKeyHint="go"
              onChange={(event) => setAsked(event.target.value)}
            />
          </form>
        </search>
        {choices.length === 0 ? (
          <p>
            No system is set up yet. Add the first one in <a href="/set-up">Set-up</a>.
          </p>
        ) : (
          <p role="status" className="unseen">
            {shown.length === 1 ? "1 system" : `${shown.length} systems`}
          </p>
        )}
        {choices.length > 0 && shown.length === 0 && (
          <p>
            No system matches “{asked}”.{" "}
            <Press className={css.asLink} onClick={() => setAsked("")}>
              Show all
            </Press>
          </p>
        )}
        <ul className={own.choices}>
          {shown.map(({ system, name, kind, standing }) => (
            <li key={system}>
              <a href={addressOf(system)} data-system={system}>
                <b>{name}</b>
                <span>
                  {system} · {kind}
                </span>
                <span className={own.stand}>
                  <Mark seen={standing} /> {STANDING_WORD[standing]}
                  {used.includes(system) ? " · tested recently on this device" : ""}
                </span>
              </a>
            </li>
          ))}
        </ul>
      </main>
    </>
  );
}
