// A running `voltfall serve`, its addresses, and requests to it byte by byte.
#pragma once

#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdint>
#include <stdexcept>
#include <string>
#include <vector>

namespace voltfall::testing {

class Served {
public:
    /// `file` and more words of its command line. Waits until it listens.
    explicit Served(const std::string& file, const std::vector<std::string>& more = {}) {
        int ends[2];
        if (pipe(ends) != 0) throw std::runtime_error("no pipe");
        child_ = fork();
        if (child_ == 0) {
            dup2(ends[1], STDOUT_FILENO);
            std::vector<std::string> words{VOLTFALL_BINARY, "serve", file, "--quiet"};
            words.insert(words.end(), more.begin(), more.end());
            std::vector<char*> argv;
            for (std::string& word : words) argv.push_back(word.data());
            argv.push_back(nullptr);
            execv(VOLTFALL_BINARY, argv.data());
            _exit(127);
        }
        close(ends[1]);
        first_ = line_of(ends[0]);
        if (first_.find("learners") != std::string::npos) second_ = line_of(ends[0]);
        close(ends[0]);
        const std::size_t at = first_.find("127.0.0.1:");
        if (at == std::string::npos) throw std::runtime_error("serve said: " + first_);
        port_ = std::stoi(first_.substr(at + 10));
    }
    /// Ends it as Ctrl-C does; its exit status.
    int end() {
        kill(child_, SIGINT);
        int status = 0;
        waitpid(child_, &status, 0);
        child_ = 0;
        return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    }
    void kill_it() {
        if (child_ <= 0) return;
        kill(child_, SIGKILL);
        waitpid(child_, nullptr, 0);
        child_ = 0;
    }
    /// Ended as a person would, so that what it ran is counted where that is measured.
    ~Served() {
        if (child_ > 0) end();
    }
    Served(const Served&) = delete;
    Served& operator=(const Served&) = delete;

    int port() const { return port_; }
    std::string address() const { return first_.substr(first_.find("http://")); }
    std::string teacher() const { return second_.substr(second_.find("http://")); }
    static std::string key_of(const std::string& address) { return address.substr(address.find("key=") + 4); }
    std::string key() const { return key_of(address()); }
    std::string host() const { return "127.0.0.1:" + std::to_string(port_); }

    /// A connection; -1 where none is to be had.
    int connect_to() const {
        const int socket_id = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
        sockaddr_in to{};
        to.sin_family = AF_INET;
        to.sin_port = htons(static_cast<std::uint16_t>(port_));
        to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        if (socket_id >= 0 && connect(socket_id, reinterpret_cast<sockaddr*>(&to), sizeof(to)) == 0) return socket_id;
        if (socket_id >= 0) close(socket_id);
        return -1;
    }
    /// What is answered to these bytes, until the server closes.
    std::string send_raw(const std::string& bytes) const {
        const int socket_id = connect_to();
        if (socket_id < 0) return {};
        for (std::size_t sent = 0; sent < bytes.size();) {
            const auto n = send(socket_id, bytes.data() + sent, bytes.size() - sent, MSG_NOSIGNAL);
            if (n <= 0) break;
            sent += static_cast<std::size_t>(n);
        }
        std::string answer;
        char buffer[1 << 14];
        for (ssize_t n = 0; (n = recv(socket_id, buffer, sizeof(buffer), 0)) > 0;)
            answer.append(buffer, static_cast<std::size_t>(n));
        close(socket_id);
        return answer;
    }
    std::string get(const std::string& path, const std::string& more = {}) const {
        return send_raw("GET " + path + " HTTP/1.1\r\nHost: " + host() + "\r\nConnection: close\r\n" + more + "\r\n");
    }
    std::string post(const std::string& path, const std::string& body, const std::string& more) const {
        return send_raw("POST " + path + " HTTP/1.1\r\nHost: " + host() +
                        "\r\nConnection: close\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: " +
                        std::to_string(body.size()) + "\r\n" + more + "\r\n" + body);
    }
    /// Comes in with a key; the header line of the browser's cookie.
    std::string come_in(const std::string& key) const {
        const std::string opened = get("/?key=" + key);
        const std::size_t at = opened.find("Set-Cookie: ");
        if (at == std::string::npos) return {};
        return "Cookie: " + opened.substr(at + 12, opened.find(';', at) - at - 12) + "\r\n";
    }

private:
    static std::string line_of(int from) {
        std::string line;
        for (char c = 0; ::read(from, &c, 1) == 1 && c != '\n';) line += c;
        return line;
    }

    pid_t child_{0};
    int port_{0};
    std::string first_;
    std::string second_;
};

/// A text as a form's field.
inline std::string url_encoded(const std::string& text) {
    static constexpr char digits[] = "0123456789ABCDEF";
    std::string out;
    for (const char c : text) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
        if (plain) {
            out += c;
        } else {
            out += '%';
            out += digits[static_cast<unsigned char>(c) >> 4];
            out += digits[static_cast<unsigned char>(c) & 15];
        }
    }
    return out;
}

}  // namespace voltfall::testing
