// The peers of the codec and level benchmarks: liblo, oscpack and libebur128 behind plain C functions, so that one process
// measures both sides on the same bytes. Every function loops by itself and answers something that depends on its work.
#include <cstdint>
#include <cstring>
#include <string_view>
#include <unordered_map>

#include <ebur128.h>
#include <lo/lo.h>
#include <oscpack/osc/OscOutboundPacketStream.h>
#include <oscpack/osc/OscReceivedElements.h>

namespace {

std::unordered_map<std::string_view, int> table;
lo_server server = nullptr;
double heard = 0;

float swapped(uint32_t word)
{
    word = __builtin_bswap32(word);
    float value;
    std::memcpy(&value, &word, sizeof value);
    return value;
}

int on_message(const char*, const char*, lo_arg** arguments, int, lo_message, void*)
{
    heard += arguments[0]->f;
    return 0;
}

double oscpack_take(const osc::ReceivedMessage& message)
{
    auto found = table.find(message.AddressPattern());
    return found == table.end() ? 0 : found->second + message.ArgumentsBegin()->AsFloat();
}

} // namespace

extern "C" {

// Both dispatchers learn the same addresses once; the strings must live on.
void peers_open(const char* const* addresses, int count)
{
    if (server)
        return;
    server = lo_server_new(nullptr, nullptr);
    for (int i = 0; i < count; i++) {
        char* kept = strdup(addresses[i]);
        table[kept] = i;
        lo_server_add_method(server, kept, "f", on_message, nullptr);
    }
}

double oscpack_parse(const char* const* packets, int size, int count)
{
    double sum = 0;
    for (int i = 0; i < count; i++) {
        osc::ReceivedMessage message(osc::ReceivedPacket(packets[i], size));
        sum += message.ArgumentsBegin()->AsFloat() + message.AddressPattern()[4];
    }
    return sum;
}

double oscpack_dispatch(const char* const* packets, int size, int count)
{
    double sum = 0;
    for (int i = 0; i < count; i++)
        sum += oscpack_take(osc::ReceivedMessage(osc::ReceivedPacket(packets[i], size)));
    return sum;
}

double oscpack_bundle(const char* packet, int size)
{
    double sum = 0;
    osc::ReceivedBundle bundle(osc::ReceivedPacket(packet, size));
    for (auto i = bundle.ElementsBegin(); i != bundle.ElementsEnd(); ++i)
        sum += oscpack_take(osc::ReceivedMessage(*i));
    return sum;
}

double oscpack_blob(const char* packet, int size, float* levels)
{
    osc::ReceivedMessage message(osc::ReceivedPacket(packet, size));
    const void* data;
    osc::osc_bundle_element_size_t length;
    message.ArgumentsBegin()->AsBlob(data, length);
    for (int i = 0; i < length / 4; i++) {
        uint32_t word;
        std::memcpy(&word, static_cast<const char*>(data) + 4 * i, 4);
        levels[i] = swapped(word);
    }
    return levels[0];
}

int oscpack_encode(char* buffer, int room, const char* const* addresses, int count)
{
    int sum = 0;
    for (int i = 0; i < count; i++) {
        osc::OutboundPacketStream out(buffer, room);
        out << osc::BeginMessage(addresses[i]) << -20.5f << osc::EndMessage;
        sum += static_cast<int>(out.Size());
    }
    return sum;
}

int oscpack_encode_bundle(char* buffer, int room, const char* const* addresses, int count)
{
    osc::OutboundPacketStream out(buffer, room);
    out << osc::BeginBundleImmediate;
    for (int i = 0; i < count; i++)
        out << osc::BeginMessage(addresses[i]) << -20.5f << osc::EndMessage;
    out << osc::EndBundle;
    return static_cast<int>(out.Size());
}

double liblo_parse(char* const* packets, int size, int count)
{
    double sum = 0;
    for (int i = 0; i < count; i++) {
        int result;
        lo_message message = lo_message_deserialise(packets[i], size, &result);
        sum += lo_message_get_argv(message)[0]->f;
        lo_message_free(message);
    }
    return sum;
}

double liblo_dispatch(char* const* packets, int size, int count)
{
    for (int i = 0; i < count; i++)
        lo_server_dispatch_data(server, packets[i], size);
    return heard;
}

double liblo_bundle(char* packet, int size)
{
    lo_server_dispatch_data(server, packet, size);
    return heard;
}

int liblo_encode(char* buffer, int room, const char* const* addresses, int count)
{
    int sum = 0;
    for (int i = 0; i < count; i++) {
        size_t length = static_cast<size_t>(room);
        lo_message message = lo_message_new();
        lo_message_add_float(message, -20.5f);
        lo_message_serialise(message, addresses[i], buffer, &length);
        lo_message_free(message);
        sum += static_cast<int>(length);
    }
    return sum;
}

// One channel, a fresh state each time, as a file is measured.
double ebur128_cost(const double* samples, int count, int rate, int true_peak)
{
    ebur128_state* state = ebur128_init(1, rate, true_peak ? EBUR128_MODE_TRUE_PEAK : EBUR128_MODE_M);
    ebur128_add_frames_double(state, samples, count);
    double answer = 0;
    if (true_peak)
        ebur128_true_peak(state, 0, &answer);
    else
        ebur128_loudness_momentary(state, &answer);
    ebur128_destroy(&state);
    return answer;
}

} // extern "C"
