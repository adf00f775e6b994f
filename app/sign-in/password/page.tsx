import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { Notice } from "../../_components/notice.tsx";
import { PasswordForm } from "../../_components/password-form.tsx";
import { SignOut } from "../../_components/sign-out.tsx";
import { Top } from "../../_components/top.tsx";
import { ownPath } from "../../_server/wanted.ts";
import { whoIsHere } from "../../page-access.ts";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Change password" };

interface Address {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** One's own password; who came in with a one-time password sees no other page before. */
export default async function PasswordPage({ searchParams }: Address) {
  const [{ who }, { to }] = await Promise.all([whoIsHere(), searchParams]);
  if (!who?.session) redirect("/sign-in");
  const { person } = who.session;
  const path = ownPath(to);
  return (
    <>
      <Top here="account" />
      <Notice title={person.mustChange ? "Choose your password" : "Change password"}>
        <p>
          {person.mustChange
            ? "You came in with a one-time password. It is changed once, here; then every page that is yours is open."
            : "Your other sessions end when it is changed."}
        </p>
        <PasswordForm to={path} oneTime={person.mustChange} />
        <SignOut />
      </Notice>
    </>
  );
}
