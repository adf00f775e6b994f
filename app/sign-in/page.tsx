import type { Metadata } from "next";
import { Notice } from "../_components/frame/notice.tsx";
import { Top } from "../_components/frame/top.tsx";
import { whoIsHere } from "../_server/page-access.ts";
import { meOf } from "../_server/sign-in.ts";
import { ownPath } from "../_server/wanted.ts";
import { SignInForm } from "./_parts/sign-in-form.tsx";
import { SignOut } from "./_parts/sign-out.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Sign in" };

interface Address {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** Who is here, what they may do, and the way out; for everybody else the way in. */
export default async function SignInPage({ searchParams }: Address) {
  const [{ deps, who }, { to }] = await Promise.all([whoIsHere(), searchParams]);
  const path = ownPath(to);
  if (who && who.actor.kind !== "first run") {
    const me = await meOf(deps, who.actor, who.session?.person.userName ?? null);
    const roles = me.grants.map(({ role, site, system }) => {
      const where = system ?? site;
      return where === null ? role : `${role} at ${where}`;
    });
    return (
      <>
        <Top here="account" />
        <Notice title={`Signed in as ${me.name}`}>
          <p>
            {roles.length === 0
              ? "You have no role yet: ask an administrator."
              : `Roles: ${roles.join(", ")}.`}
          </p>
          {me.kind === "person" && (
            <p>
              <a href="/sign-in/password">Change password</a>
            </p>
          )}
          <SignOut />
        </Notice>
      </>
    );
  }
  return (
    <>
      <Top here="account" />
      <Notice title="Sign in">
        {who ? (
          <p>
            There are no accounts yet. Start Homewater with <code>npm start</code> to create the first one and
            print its one-time password. Until then every page can be viewed from this machine:{" "}
            <a href={path}>continue</a>.
          </p>
        ) : (
          <p>You need an account to see what is measured here.</p>
        )}
        <SignInForm to={path} />
      </Notice>
    </>
  );
}
