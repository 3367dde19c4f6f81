using CsCheck;
using TrimAssist.Core.Desks;
using TrimAssist.Core.Gate;
using TrimAssist.Core.Proposals;
using TrimAssist.Core.Units;
using TrimAssist.Core.Wording;
using Xunit;

namespace TrimAssist.Core.Tests.Gate;

/// <summary>
/// Random histories of proposals, confirmations, repeats, refusals, waits, desk changes and journal failures. What must
/// hold in every one of them: a permission has exactly one matching confirmation before it, of an open proposal, in time,
/// on a live link, with the value that the desk then had.
/// </summary>
public sealed class GateHistories
{
    private enum Deed
    {
        Propose, Confirm, ConfirmWrong, ConfirmUnnamed, ConfirmDuringJournal, JournalFails, Decline, Wait, WaitLong, KnobTurned, MuteOpened, LinkLost, LinkBack, Settle,
    }

    [Fact]
    public void Every_permission_has_exactly_one_matching_confirmation_before_it() =>
        Gen.Select(Gen.Enum<Deed>(), Gen.Int[1, 4], Gen.Int[0, 60]).Array[1, 40].Sample(Holds, iter: 100_000);

    private static bool Holds((Deed Deed, int Input, int Db)[] history)
    {
        var bench = new GateBench();
        var permissions = new HashSet<Guid>();
        foreach (var (deed, input, db) in history)
        {
            var last = bench.Book.All.FirstOrDefault(one => one.Input == input);
            var openBefore = last is { IsOpen: true } && bench.Now.Elapsed < last.ExpiresAt.Elapsed;
            var unmoved = last is not null && bench.View.StillHas(last);
            var live = bench.Link == LinkState.Live;
            ConfirmedChange? change = null;
            switch (deed)
            {
                case Deed.Propose when Math.Abs(bench.Settings(input).Trim!.Value.Value - db) > 0.4:
                    bench.ProposeTrim(db, input);
                    break;
                case Deed.Confirm when last is not null:
                    change = bench.Confirm(GateBench.Naming(last, [.. last.Needs])).Change;
                    // What is open, named, unmoved and on a live link is never refused.
                    if (openBefore && unmoved && live && change is null)
                        return false;
                    break;
                case Deed.ConfirmWrong when last is not null:
                    if (bench.Confirm(new(last.Id, last.Digest[..63] + (last.Digest[63] == '0' ? '1' : '0'), [.. last.Needs], "engineer")).Change is not null)
                        return false;
                    break;
                case Deed.ConfirmUnnamed when last is { Needs.Count: > 0 }:
                    if (bench.Confirm(GateBench.Naming(last)).Change is not null)
                        return false;
                    break;
                case Deed.ConfirmDuringJournal when last is not null:
                    if (bench.Gate.Reserve(GateBench.Naming(last, [.. last.Needs]), bench.View, bench.Now).Code == GateCode.Accepted)
                    {
                        bench.Set(input, one => one with { Trim = new Decibels(db) });
                        unmoved = bench.View.StillHas(last);
                        change = bench.Gate.Grant(last.Id, bench.View);
                    }

                    break;
                case Deed.JournalFails when last is not null:
                    if (bench.Gate.Reserve(GateBench.Naming(last, [.. last.Needs]), bench.View, bench.Now).Code == GateCode.Accepted)
                        bench.Gate.Release(last.Id);
                    break;
                case Deed.Decline when last is { IsOpen: true }:
                    bench.Book.Move(last.Id, ProposalState.Declined, null);
                    break;
                case Deed.Wait:
                    bench.Wait(TimeSpan.FromSeconds(db));
                    break;
                case Deed.WaitLong:
                    bench.Wait(ProposalLife.Trim);
                    break;
                case Deed.KnobTurned:
                    bench.Set(input, one => one with { Trim = new Decibels(db) });
                    break;
                case Deed.MuteOpened:
                    bench.Set(input, one => one with { Muted = false });
                    bench.Proposals.RenewDangers();
                    break;
                case Deed.LinkLost:
                    bench.Link = LinkState.Lost;
                    break;
                case Deed.LinkBack:
                    bench.Link = LinkState.Live;
                    break;
                case Deed.Settle when last is { State: ProposalState.Confirmed }:
                    bench.Set(input, one => one with { Trim = new Decibels(last.To.Db!.Value) });
                    bench.Gate.Settle(last.Id, new(WriteResult.Applied, last.To, Saying.Plain("read back")));
                    break;
                default:
                    break;
            }

            if (change is not null && !(openBefore && unmoved && live && permissions.Add(change.Proposal) && change.To == last!.To))
                return false;
        }

        return true;
    }
}
