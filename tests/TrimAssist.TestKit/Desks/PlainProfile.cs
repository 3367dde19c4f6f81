using System.Net;

namespace TrimAssist.TestKit.Desks;

/// <summary>The profile of a plain desk of our own: peaks in one blob, a trim and a mute for each input, all under addresses that begin with its id.</summary>
internal static class PlainProfile
{
    /// <summary>The profile's text.</summary>
    /// <param name="id">The desk's id.</param>
    /// <param name="name">Its name.</param>
    /// <param name="inputs">How many inputs it has.</param>
    /// <param name="at">Where it is.</param>
    /// <param name="covers">What its mute closes.</param>
    /// <param name="more">What else it has.</param>
    public static string Of(string id, string name, int inputs, EndPoint at, string covers, string more) => $$"""
        id = "{{id}}"
        name = "{{name}}"
        inputs = {{inputs}}
        [connection]
        transport = "udp"
        desk = "127.0.0.1:{{((IPEndPoint)at).Port}}"
        [[subscription]]
        address = "/{{id}}/follow"
        arguments = ["levels"]
        renew_s = 2.0
        [[meters]]
        address = "/{{id}}/tops"
        quantity = "peak"
        unit = "dbfs"
        packing = "blob"
        element = "float32"
        frame_ms = 50
        tap = "converter"
        follows_mute = false
        [controls.trim]
        address = "/{{id}}/{input}/gain"
        unit = "db"
        value_type = "float"
        range_db = [0.0, 60.0]
        step_db = 1.0
        stage = "analogue"
        [controls.mute]
        address = "/{{id}}/{input}/closed"
        on = 1
        off = 0
        covers = {{covers}}
        {{more}}
        """;
}
