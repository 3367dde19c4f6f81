namespace TrimAssist.Core.Wording;

/// <summary>Which stage of a chain to touch, by how much, and why.</summary>
internal static class AdviceSayings
{
    public static Saying TheSource { get; } = Saying.Of($"the source");
    public static Saying ThePad { get; } = Saying.Of($"the pad");
    public static Saying TheTrim { get; } = Saying.Of($"the trim");
    public static Saying WhatFollows { get; } = Saying.Of($"what follows the trim");

    public static Saying ClipsBehind { get; } = Saying.Of($"Something between the trim and the converter clips: look at what is inserted there; turning the trim down only hides it.");
    public static Saying ClipsBefore(double byDb) => Saying.Of($"Turn the source, or whatever comes before the desk, down by about {byDb:0} dB: it clips before the desk does, and the trim cannot cure that.");
    public static Saying ClipsPad(string stage, double padDb, Saying why) => Saying.Of($"Put the pad of {stage} in ({padDb:0.#} dB): {why}.");
    public static Saying ClipsTurn(Saying stage, double byDb, Saying why) => Saying.Of($"Turn {stage} down by {byDb:0.#} dB: {why}.");
    public static Saying ClipsTurnMakeUp(Saying stage, double byDb, Saying trim, Saying why) => Saying.Of($"Turn {stage} down by {byDb:0.#} dB and make it up with {trim} if it is missed: {why}.");
    public static Saying ClipsInput(string stage) => Saying.Of($"the input of {stage} clips, and nothing behind it cures that");
    public static Saying ClipsOutput(string stage) => Saying.Of($"the output of {stage} clips, and nothing behind it cures that");

    public static Saying PadLeftIn(double padDb, double trimDb) => Saying.Of($"Take the pad out ({padDb:0.#} dB) and the trim down by as much first: the pad is in, and the trim at {trimDb:0.#} dB makes up for it.");
    public static Saying PadLeftInAt(string stage, double padDb) => Saying.Of($"Look whether the pad of {stage} is in and take its {padDb:0.#} dB out, the trim down by as much first: about so much level is missing.");

    public static Saying EndPad(double padDb, double overDb) => Saying.Of($"Put the pad in ({padDb:0.#} dB): the input is {overDb:0.#} dB too hot for the lowest trim.");
    public static Saying EndDown(double byDb) => Saying.Of($"Turn the source down by about {byDb:0} dB: the input is too hot for the lowest trim.");
    public static Saying EndUpNoRoom(double byDb) => Saying.Of($"Turn the source itself up by about {byDb:0} dB, or move the microphone closer: no stage before the trim has room, and the trim is at its end.");
    public static Saying EndUpStage(string stage, double byDb) => Saying.Of($"Turn {stage} up by about {byDb:0.#} dB and the trim down by as much first: the trim is at its end.");
    public static Saying EndUp(double byDb) => Saying.Of($"Turn the source up by about {byDb:0} dB, or move the microphone closer, the trim down by as much first: the trim is at its end.");

    public static Saying HissSource(double byDb) => Saying.Of($"Turn the source up by about {byDb:0} dB and the trim down by as much first: the noise comes from before the trim.");
    public static Saying HissSourceItself { get; } = Saying.Of($"Look at the source itself, its cable and its volume: the noise comes with it, and no stage behind it takes it out.");
    public static Saying HissNoRoom(string stage) => Saying.Of($"Most of the noise is made by {stage}, and nothing before it has room to go up: turn the source itself up, or replace {stage}.");
    public static Saying HissStage(string stage, double byDb, string trim, string noisy) => Saying.Of($"Turn {stage} up by about {byDb:0.#} dB and {trim} down by as much first: most of the noise is made by {noisy}.");
    public static Saying HissStageItself(string stage, double byDb, string trim, string noisy) => Saying.Of($"Turn {stage} up by about {byDb:0.#} dB and {trim} down by as much first: most of the noise is made by {noisy}, whatever its gain.");
    public static Saying HissTrim(Saying trim, double byDb) => Saying.Of($"Turn {trim} up by {byDb:0} dB, between songs: the noise is made behind it and does not rise with it.");
    public static Saying HissBehind(Saying stage) => Saying.Of($"Look at {stage}: the noise is made behind the trim, and the trim stands where it should.");
}
